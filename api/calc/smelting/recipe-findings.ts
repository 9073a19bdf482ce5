import type { Finding } from '../finding.ts';
import type { MineralShare } from './minerals.ts';
import type { OxygenBalance, ReagentMasses } from './oxygen-balance.ts';

const grams = (massG: number) => `${massG.toFixed(1)} g`;

/** What is to be said of a recipe before it is melted, beyond slag, matte and volume. */
export function recipeFindings({
  recipe,
  oxygen,
  ironNeededG,
  ironSulfideG,
  dissolvedG,
  speissG,
}: {
  recipe: { minerals: readonly MineralShare[]; lotMassG: number; reagents: ReagentMasses };
  oxygen: OxygenBalance;
  ironNeededG: number;
  ironSulfideG: number;
  dissolvedG: number;
  speissG: number;
}): Finding[] {
  const { minerals, lotMassG, reagents } = recipe;
  const { nitre = 0, flour = 0, charcoal = 0, iron = 0, lead = 0, litharge = 0 } = reagents;
  const findings: Finding[] = [];
  const say = (code: string, level: Finding['level'], path: string, sentence: string) =>
    findings.push({ code, level, path, sentence });

  const namedFrac = minerals.reduce((sum, share) => sum + share.massFrac, 0);
  if (namedFrac < 0.9) {
    say(
      'minerals-incomplete',
      'warning',
      '/minerals',
      `The minerals named make up ${(100 * namedFrac).toFixed(0)} % of the lot; the rest is taken to do nothing. ` +
        `Name the rest, quartz included.`,
    );
  }
  if (nitre > 0 && flour + charcoal > 0) {
    say(
      'nitre-with-reducers',
      'warning',
      '/reagents/nitre',
      `The recipe has ${grams(nitre)} of nitre and ${grams(flour + charcoal)} of flour or charcoal: they undo each ` +
        `other, and together they can deflagrate. Leave one of them out.`,
    );
  }
  if (nitre > lotMassG) {
    say(
      'nitre-above-sample',
      'warning',
      '/reagents/nitre',
      `${grams(nitre)} of nitre for ${grams(lotMassG)} of concentrate would boil hard and may run over: roast ` +
        `first, in part or dead.`,
    );
  }
  if (oxygen.nitreInExcessG > 0.01 * lotMassG) {
    say(
      'nitre-in-excess',
      'warning',
      '/reagents/nitre',
      `${grams(oxygen.nitreInExcessG)} of the nitre find nothing to oxidize but lead and crucible: ` +
        `${grams(nitre - oxygen.nitreInExcessG)} would be right.`,
    );
  }
  if (iron > 0 && iron < ironNeededG) {
    say(
      'iron-short',
      'warning',
      '/reagents/iron',
      `The sulfides left can take up ${grams(ironNeededG)} of iron and only ${grams(iron)} are charged: the rest of ` +
        `them stays as matte. Charge iron in surplus and weigh what comes out.`,
    );
  }
  if (ironSulfideG > dissolvedG + 0.01 * lotMassG) {
    say(
      'iron-sulfide-undissolved',
      'warning',
      '/reagents/iron',
      `Iron makes ${grams(ironSulfideG)} of iron sulfide, and this slag takes up about ${grams(dissolvedG)}: the rest ` +
        `comes down as matte. More soda, or a roast before, would be right.`,
    );
  }
  if (lead + litharge === 0) {
    say(
      'collector-missing',
      'blocker',
      '/reagents/lead',
      'There is neither lead nor litharge in the recipe: nothing collects the gold and silver.',
    );
  } else if (lead === 0 && oxygen.leadReducedG < 0.1 * lotMassG) {
    say(
      'button-small',
      'warning',
      '/reagents/litharge',
      `Only ${grams(oxygen.leadReducedG)} of lead would be reduced from the litharge, from ${grams(lotMassG)} of ` +
        `concentrate: add flour, or charge lead.`,
    );
  }
  if (speissG > 0.005 * lotMassG) {
    say(
      'speiss-expected',
      'warning',
      '/minerals',
      `Up to ${grams(speissG)} of arsenical speiss may form, as hard plates between button and slag: it carries gold, ` +
        `and it is poisonous. Keep it apart and have it assayed.`,
    );
  }
  return findings;
}
