import type { Finding } from '../finding.ts';
import type { Measured } from '../measured.ts';
import { figure, percentFigure } from './figures.ts';
import type { TestSmelt } from './test-smelt.ts';
import { measuredFrom, over, traced } from './traced.ts';
import type { Traced } from './traced.ts';
import { sources } from './uncertainty-budget.ts';
import { weighedG, weighingUncertaintyG } from './weighing.ts';

export interface SmeltProducts {
  matteFallFrac: Measured | null;
  slagFallFrac: Measured | null;
  findings: Finding[];
}

/** Matte fall and slag fall, each the mass over the sample as received, and what the products say. */
export function workProducts(smelt: TestSmelt, sample: Traced): SmeltProducts {
  const { matteG, slagG, sampleBalance: balance } = smelt;
  const fall = (source: typeof sources.matte, massG: number | null): Measured | null =>
    massG === null ? null : measuredFrom(over(traced(source, weighedG({ massG, balance })), sample));
  return {
    matteFallFrac: fall(sources.matte, matteG),
    slagFallFrac: fall(sources.slag, slagG),
    findings: [
      ...matteFindings(smelt),
      ...slagFindings(smelt),
      ...massBalanceFindings(smelt),
      ...ironFindings(smelt),
      ...crucibleFindings(smelt),
    ],
  };
}

function matteFindings({ matteG, sampleMassG }: TestSmelt): Finding[] {
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
      sentence: `${figure(matteG)} g of matte fell, ${percentFigure(matteG / sampleMassG)} of the sample; matte and speiss hold gold and above all silver, so the grade is what this treatment gave, not all there is. An assay of the matte would tell the rest.`,
    },
  ];
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
