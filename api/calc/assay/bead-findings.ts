import type { Finding } from '../finding.ts';
import { figure } from './figures.ts';
import { leastSilverToGoldForParting, silverToAddForPartingMg } from './parting.ts';
import type { TestSmelt } from './test-smelt.ts';
import { weighingUncertaintyG } from './weighing.ts';

/** A bead below this many times its weighing uncertainty is known to no better than 10 % (common practice). */
const leastMassOverUncertainty = 10;

/** What the masses of bead, parted gold and button say about each other before any grade is worked out. */
export function beadFindings(smelt: TestSmelt): Finding[] {
  const { beadMg, partedGoldMg, buttonG } = smelt;
  const findings: Finding[] = [];
  if (beadMg === null) {
    findings.push({
      code: 'bead-missing',
      level: 'blocker',
      path: '/beadMg',
      sentence:
        partedGoldMg === null
          ? 'No bead mass is recorded, so no grade could be worked out.'
          : 'No bead mass is recorded, so only gold could be worked out, not silver nor gold and silver together.',
    });
  }
  if (beadMg !== null && partedGoldMg !== null && partedGoldMg > beadMg) {
    findings.push({
      code: 'parted-gold-heavier-than-bead',
      level: 'blocker',
      path: '/partedGoldMg',
      sentence: `The parted gold, ${figure(partedGoldMg)} mg, is heavier than the bead it came from, ${figure(beadMg)} mg; one of the two is wrong, so no grade is given.`,
    });
  }
  if (beadMg !== null && buttonG !== null && beadMg > 1000 * buttonG) {
    findings.push({
      code: 'bead-heavier-than-button',
      level: 'blocker',
      path: '/beadMg',
      sentence: `The bead, ${figure(beadMg)} mg, is heavier than the button, ${figure(buttonG)} g, it was cupelled from; look at the units, the bead is in milligrams. No grade is given.`,
    });
  }
  return [
    ...findings,
    ...nearReadability(smelt, '/beadMg', 'bead', beadMg),
    ...nearReadability(smelt, '/partedGoldMg', 'parted gold', partedGoldMg),
  ];
}

function nearReadability(smelt: TestSmelt, path: string, name: string, massMg: number | null): Finding[] {
  const uMg = 1000 * weighingUncertaintyG(smelt.beadBalance);
  if (massMg === null || massMg >= leastMassOverUncertainty * uMg) return [];
  return [
    {
      code: path === '/beadMg' ? 'bead-near-readability' : 'parted-gold-near-readability',
      level: 'warning',
      path,
      sentence: `The ${name} is ${figure(massMg)} mg and ${smelt.beadBalance.name} weighs to ± ${figure(2 * uMg)} mg; below ${leastMassOverUncertainty} times the standard uncertainty, here ${figure(leastMassOverUncertainty * uMg)} mg, the grade is only a rough one (common practice). A larger sample or a finer balance would help.`,
    },
  ];
}

/** Parts of silver to one of gold where they are too few, with as many digits as it takes to say less than the least. */
function partsShort(ratio: number): string {
  const digits = [2, 3, 4].find((count) => Number(ratio.toPrecision(count)) < leastSilverToGoldForParting);
  return digits === undefined ? `a little less than ${leastSilverToGoldForParting}` : figure(ratio, digits);
}

/** Whether there was silver enough for the acid to part the gold. */
export function partingFindings(smelt: TestSmelt, beadMg: number, goldMg: number): Finding[] {
  if (goldMg === 0) return [];
  const silverMg = beadMg - goldMg + (smelt.inquartSilverMg ?? 0);
  if (silverMg >= leastSilverToGoldForParting * goldMg) return [];
  return [
    {
      code: 'too-little-silver-to-part',
      level: 'warning',
      path: '/partedGoldMg',
      sentence: `There were ${partsShort(silverMg / goldMg)} parts of silver to 1 of gold at parting; below about ${leastSilverToGoldForParting} the acid leaves silver in the gold (common practice), so gold may read high and silver low. Another ${figure(silverToAddForPartingMg({ goldMg, silverMg }), 3)} mg of silver added before parting would have been enough.`,
    },
  ];
}
