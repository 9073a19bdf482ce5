import type { TestSmelt } from '../assay/test-smelt.ts';
import type { Finding } from '../finding.ts';
import { balanceOf, balanceOn, weighedOnFindings } from './balance-from-record.ts';
import { chargeBulkVolumeMl } from './check-charge.ts';
import { productGpt } from './close-smelt.ts';
import { cupellationCorrection } from './cupellation-from-record.ts';
import { assayedFrac } from './lot-assays.ts';
import { goldGptForSampling, samplingError } from './sampling-from-record.ts';
import type {
  BalanceFacts,
  CupellationFacts,
  LotFacts,
  SupplyFacts,
  TestSmeltFacts,
  TrialFacts,
} from './records.ts';

export interface SmeltFacts {
  lot: Pick<LotFacts, 'minerals' | 'labAssays' | 'dryMassKg' | 'sampling'>;
  /** Gold grade that sampling errors are worked with (`goldGptForSampling`). */
  samplingGoldGpt: number | null;
  balances: readonly BalanceFacts[];
  cupellation: CupellationFacts;
  supplies: readonly Pick<SupplyFacts, 'id' | 'name' | 'kind'>[];
}

/** What every test smelt of a lot is worked with; all trials of the lot, so that none is judged by itself alone. */
export function smeltFacts<Facts extends Omit<SmeltFacts, 'samplingGoldGpt'>>(
  facts: Facts,
  trialsOfLot: readonly Pick<TrialFacts, 'smelts'>[],
): Facts & Pick<SmeltFacts, 'samplingGoldGpt'> {
  return { ...facts, samplingGoldGpt: goldGptForSampling(facts.lot, trialsOfLot) };
}

/**
 * Relative standard uncertainty of a blank that was entered without one: a bead of silver from a blank
 * cupellation is a fraction of a milligram, on a balance that reads hundredths. Common practice.
 */
const UNSTATED_BLANK_RELATIVE_U = 0.3;

/** What the checks of the balances say of the masses that this test's grade rests on. */
function balanceFindings(record: TestSmeltFacts, balances: readonly BalanceFacts[]): Finding[] {
  if (record.smeltedOn === '') return [];
  const bead = [
    { name: 'the bead', massMg: record.beadMg },
    { name: 'the gold', massMg: record.partedGoldMg },
  ].flatMap(({ name, massMg }) => (massMg === null ? [] : [{ name, massG: massMg / 1000 }]));
  return [
    ...weighedOnFindings({
      record: balanceOf(balances, record.sampleBalanceId),
      on: record.smeltedOn,
      masses: [{ name: 'the sample', massG: record.sampleMassG }],
      path: '/sampleBalance',
    }),
    ...(bead.length === 0
      ? []
      : weighedOnFindings({
          record: balanceOf(balances, record.beadBalanceId),
          on: record.smeltedOn,
          masses: bead,
          path: '/beadBalance',
        })),
  ];
}

/** A test smelt as the assay arithmetic wants it, from the record in the book. */
export function smeltFromRecord(
  record: TestSmeltFacts,
  facts: SmeltFacts,
): { smelt: TestSmelt; findings: Finding[] } {
  const supplyOf = (id: string) => facts.supplies.find((supply) => supply.id === id);
  const blank = record.blankMgPerLeadG;
  const blankU = record.blankStandardUncertaintyMgPerLeadG;
  const findings = balanceFindings(record, facts.balances);
  if (blank !== null && blankU === null && blank > 0)
    findings.push({
      code: 'blank-uncertainty-assumed',
      level: 'note',
      path: '/blankStandardUncertaintyMgPerLeadG',
      sentence: `The blank of ${blank} mg of silver per gram of lead has no uncertainty: ${UNSTATED_BLANK_RELATIVE_U * 100} % of it is taken.`,
    });
  const sampling = samplingError({
    lot: facts.lot,
    goldGpt: facts.samplingGoldGpt,
    sampleMassG: record.sampleMassG,
  });
  findings.push(...(sampling?.findings ?? []));
  const cupellation = cupellationCorrection(facts.cupellation, facts.balances);
  if (record.beadMg !== null || record.partedGoldMg !== null) findings.push(...cupellation.findings);
  const litharge = record.reagents.filter(({ supplyId }) => supplyOf(supplyId)?.kind === 'litharge');
  return {
    findings,
    smelt: {
      sampleMassG: record.sampleMassG,
      roast: record.roasted
        ? {
            massBeforeG: record.massBeforeRoastG,
            massAfterG: record.massAfterRoastG,
            hours: record.roastHours,
            tempC: record.roastTempC,
          }
        : null,
      collectorLeadG: record.collectorLeadG,
      lithargeG: litharge.length === 0 ? null : litharge.reduce((sum, one) => sum + one.massG, 0),
      reagents: record.reagents.map(({ supplyId, massG }) => ({
        name: supplyOf(supplyId)?.name ?? 'unknown reagent',
        massG,
      })),
      ironInG: record.ironInG,
      ironOutG: record.ironOutG,
      crucibleVolumeMl: record.crucibleVolumeMl,
      chargeBulkVolumeMl: chargeBulkVolumeMl(record, facts),
      buttonG: record.buttonG,
      matteG: record.matteG,
      slagG: record.slagG,
      matteAssay: { goldGpt: productGpt(record.matteGoldGpt), silverGpt: productGpt(record.matteSilverGpt) },
      beadMg: record.beadMg,
      partedGoldMg: record.partedGoldMg,
      inquartSilverMg: record.inquartSilverMg,
      sampleBalance: balanceOn(balanceOf(facts.balances, record.sampleBalanceId), record.smeltedOn).balance,
      beadBalance: balanceOn(balanceOf(facts.balances, record.beadBalanceId), record.smeltedOn).balance,
      blankMgPerGLead:
        blank === null ? null : { value: blank, u: blankU ?? UNSTATED_BLANK_RELATIVE_U * blank },
      sampleLeadFrac: assayedFrac(facts.lot.labAssays, 'Pb'),
      cupellationCorrection: cupellation.correction,
      silverToGoldRatioFromAssay: null,
      sampling: sampling && {
        relativeSdGold: sampling.relativeSdGold,
        relativeSdSilver: sampling.relativeSdSilver,
      },
    },
  };
}
