import type { Finding } from '../finding.ts';
import type { Measured } from '../measured.ts';
import { figure, percentFigure } from './figures.ts';
import type { BeadMetal } from './bead.ts';
import type { TestSmelt } from './test-smelt.ts';
import { measuredFrom, over, plus, scaledBy, times, traced } from './traced.ts';
import type { Traced } from './traced.ts';
import { sources } from './uncertainty-budget.ts';
import { weighedG, weighingUncertaintyG } from './weighing.ts';

export interface SmeltProducts {
  matteFallFrac: Measured | null;
  slagFallFrac: Measured | null;
  findings: Finding[];
}

/** Matte fall and slag fall, each the mass over the sample as received, and what the products say. */
export function workProducts(smelt: TestSmelt, sample: Traced, bead: BeadMetal): SmeltProducts {
  const { matteG, slagG, sampleBalance: balance } = smelt;
  const fall = (source: typeof sources.matte, massG: number | null): Measured | null =>
    massG === null ? null : measuredFrom(over(traced(source, weighedG({ massG, balance })), sample));
  return {
    matteFallFrac: fall(sources.matte, matteG),
    slagFallFrac: fall(sources.slag, slagG),
    findings: [
      ...matteFindings(smelt, bead),
      ...slagFindings(smelt),
      ...massBalanceFindings(smelt),
      ...ironFindings(smelt),
      ...crucibleFindings(smelt),
    ],
  };
}

function matteFindings(smelt: TestSmelt, bead: BeadMetal): Finding[] {
  const { matteG, sampleMassG } = smelt;
  if (matteG === 0) return [];
  if (matteG === null) {
    return [
      {
        code: 'matte-missing',
        level: 'note',
        path: '/matteG',
        sentence:
          'No matte mass is recorded (0 where none fell), so the matte fall could not be worked out, nor whether matte holds metal back.',
      },
    ];
  }
  return [
    {
      code: 'matte-fell',
      level: 'warning',
      path: '/matteG',
      sentence: `${figure(matteG)} g of matte fell, ${percentFigure(matteG / sampleMassG)} of the sample; matte and speiss hold gold and above all silver, so the grade is what this treatment gave, not all there is. ${matteShares(smelt, bead)}`,
    },
  ];
}

/** What an assay of the matte finds of each metal in it, of all that bead and matte hold; or that it was not assayed. */
function matteShares({ matteG, matteAssay, sampleBalance: balance }: TestSmelt, bead: BeadMetal): string {
  const matte = traced(sources.matte, weighedG({ massG: matteG ?? 0, balance }));
  const share = (name: string, gradeGpt: Measured | null | undefined, beadMg: Traced | null): string[] => {
    if (!gradeGpt || beadMg === null) return [];
    const inMatte = scaledBy(times(matte, traced(sources.matteAssay, gradeGpt)), 1e-3);
    const all = plus(beadMg, inMatte);
    if (!(all.value > 0)) return [];
    const { value, u } = measuredFrom(over(inMatte, all));
    return [`${figure(100 * value, 3)} ± ${figure(200 * u, 2)} % of the ${name}`];
  };
  const found = [
    ...share('gold', matteAssay?.goldGpt, bead.goldMg),
    ...share('silver', matteAssay?.silverGpt, bead.silverMg),
  ];
  return found.length === 0
    ? 'An assay of the matte would tell the rest.'
    : `By its assay the matte holds ${found.join(' and ')} that was found in bead and matte.`;
}

function slagFindings({ slagG }: TestSmelt): Finding[] {
  if (slagG !== null) return [];
  return [
    {
      code: 'slag-missing',
      level: 'note',
      path: '/slagG',
      sentence: 'No slag mass is recorded, so the slag fall could not be worked out.',
    },
  ];
}

/** Button, matte, slag and spare iron against all that was charged; the gases can only make it less. */
function massBalanceFindings(smelt: TestSmelt): Finding[] {
  const { roast, ironInG, ironOutG } = smelt;
  const calcineG =
    roast?.massBeforeG && roast.massAfterG !== null
      ? (smelt.sampleMassG * roast.massAfterG) / roast.massBeforeG
      : smelt.sampleMassG;
  const charged = [
    calcineG,
    smelt.collectorLeadG ?? 0,
    ironInG ?? 0,
    ...smelt.reagents.map(({ massG }) => massG),
  ];
  const products = [
    smelt.buttonG ?? 0,
    smelt.matteG ?? 0,
    smelt.slagG ?? 0,
    ironInG === null ? 0 : (ironOutG ?? 0),
  ];
  const total = (masses: number[]): number => masses.reduce((sum, massG) => sum + massG, 0);
  const excessG = total(products) - total(charged);
  const uG = Math.sqrt(charged.length + products.length) * weighingUncertaintyG(smelt.sampleBalance);
  if (!(excessG > 2 * uG)) return [];
  return [
    {
      code: 'products-heavier-than-charge',
      level: 'warning',
      path: '',
      sentence: `The products weigh ${figure(total(products))} g and the charge was ${figure(total(charged))} g; nothing can gain mass but by what it takes from the crucible. Look for a reagent that is not recorded or a wrong mass.`,
    },
  ];
}

function ironFindings({ ironInG, ironOutG }: TestSmelt): Finding[] {
  if (ironInG === null || ironOutG === null || ironOutG <= ironInG) return [];
  return [
    {
      code: 'iron-gained-mass',
      level: 'warning',
      path: '/ironOutG',
      sentence: `The iron came out at ${figure(ironOutG)} g and went in at ${figure(ironInG)} g; matte, slag or lead sticks to it, so clean and weigh it again.`,
    },
  ];
}

/** At most two thirds of the crucible, never above three quarters, by bulk volume (common practice). */
function crucibleFindings({ crucibleVolumeMl, chargeBulkVolumeMl }: TestSmelt): Finding[] {
  if (!crucibleVolumeMl || chargeBulkVolumeMl == null) return [];
  const filled = chargeBulkVolumeMl / crucibleVolumeMl;
  if (filled <= 2 / 3) return [];
  return [
    {
      code: 'crucible-over-filled',
      level: filled > 3 / 4 ? 'warning' : 'note',
      path: '/crucibleVolumeMl',
      sentence: `The charge takes ${percentFigure(filled)} of the crucible by bulk volume; it boils and foams, so fill at most two thirds and never above three quarters (common practice). Metal may have boiled over.`,
    },
  ];
}
