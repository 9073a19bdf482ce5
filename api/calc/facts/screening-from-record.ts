import { workScreenMetallics } from '../assay/screen-metallics.ts';
import { usualAssayUncertainty } from '../assay/lab-assay.ts';

/** A sample with coarse metal, screened and assayed in two parts, as it is kept. */
export interface ScreeningFacts {
  screenMm: number | null;
  coarseMassG: number;
  coarseMetalMg: number;
  coarseMetalStandardUncertaintyMg: number | null;
  fineMassG: number;
  fineAssays: { gradeGpt: number; standardUncertaintyGpt: number | null }[];
  balance: { name: string; readabilityG: string; repeatabilityG: string };
}

/** Standard uncertainty of the metal of the coarse part: as stated, else usual for an assay of its content, mg. */
function coarseU({
  coarseMassG,
  coarseMetalMg,
  coarseMetalStandardUncertaintyMg: stated,
}: ScreeningFacts): number {
  if (stated !== null) return stated;
  if (coarseMassG === 0 || coarseMetalMg === 0) return 0;
  const gradeGpt = Math.min(1e6, (1000 * coarseMetalMg) / coarseMassG);
  return (coarseMetalMg * usualAssayUncertainty({ value: gradeGpt, unit: 'g/t' })) / gradeGpt;
}

/** The grade of a screened sample with its working (`workScreenMetallics`), results without an uncertainty taken as usual. */
export function workScreening(record: ScreeningFacts): ReturnType<typeof workScreenMetallics> {
  const { balance } = record;
  return workScreenMetallics({
    coarse: { massG: record.coarseMassG, metalMg: { value: record.coarseMetalMg, u: coarseU(record) } },
    fine: {
      massG: record.fineMassG,
      gradesGpt: record.fineAssays.map(({ gradeGpt, standardUncertaintyGpt }) => ({
        value: gradeGpt,
        u: standardUncertaintyGpt ?? usualAssayUncertainty({ value: gradeGpt, unit: 'g/t' }),
      })),
    },
    balance: {
      name: balance.name,
      readabilityG: Number(balance.readabilityG),
      repeatabilityG: Number(balance.repeatabilityG),
    },
  });
}
