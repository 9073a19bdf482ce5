import { usualAssayUncertainty } from '../assay/lab-assay.ts';
import type { OptionResult } from '../economics/decide.ts';
import type { Matte } from '../economics/matte-work.ts';
import type { DecideInput } from '../economics/options.ts';
import type { InquiryValue, Inquiry } from '../economics/value-of-information.ts';
import { atCost } from '../economics/value-of-information.ts';
import type { Metal } from '../evidence/lot-evidence.ts';
import { METALS } from '../evidence/lot-evidence.ts';
import { meanOfDraws } from '../statistics/draws.ts';
import type { LotQuestion } from './decide-lot.ts';
import type { LotEvidence } from './lot-evidence.ts';
import { measuredMatte } from './measured-matte.ts';
import type { DecisionFacts } from './records.ts';
import { goldGptForSampling, samplingError } from './sampling-from-record.ts';

/** What the owner pays for finding something out, in the mill's currency. */
export interface InquiryCosts {
  labAssay: number;
  testSmelt: number;
  /** A test smelt of a treatment that roasts first: the roast test with it. */
  roastTest: number;
  matteAssay: number;
  fixedPrice: number;
}

/** Where the owner has typed nothing. From memory of common practice; in dollars. */
export const USUAL_INQUIRY_COSTS: InquiryCosts = {
  labAssay: 60,
  testSmelt: 35,
  roastTest: 50,
  matteAssay: 60,
  fixedPrice: 0,
};

/** Something that could be found out about a lot, and which of the owner's costs it has. */
export interface LotInquiry {
  inquiry: Inquiry;
  costOf: keyof InquiryCosts;
}

/** Relative standard uncertainty of one test smelt by weighing and blank, where no test of the lot shows it. Common practice. */
const USUAL_SMELT_RELATIVE_U = 0.02;

/** Mass of a test smelt or of a sample for a laboratory that is not taken yet, g. Common practice. */
const USUAL_SAMPLE_G = { smelt: 100, lab: 500 };

/** Relative error of taking a sample of the lot, as far as it is known; 0 where it is not. */
function relativeSampling({ lot, trials }: DecisionFacts, metal: Metal, sampleMassG: number): number {
  const error = samplingError({ lot, goldGpt: goldGptForSampling(lot, trials), sampleMassG });
  return error === null ? 0 : metal === 'Au' ? error.relativeSdGold : error.relativeSdSilver;
}

/** Middle relative uncertainty of the lot's own test smelts that count. */
function relativeUOfSmelts(facts: DecisionFacts, { trials }: LotEvidence, metal: Metal): number {
  const found = trials
    .flatMap((trial) => trial.smelts)
    .filter((smelt) => smelt.setAsideReason === null)
    .flatMap(({ result }) => {
      const grade = metal === 'Au' ? result.goldGpt : result.silverGpt;
      return grade !== null && grade.value > 0 ? [grade.u / grade.value] : [];
    })
    .toSorted((a, b) => a - b);
  return (
    found[Math.floor(found.length / 2)] ??
    Math.hypot(USUAL_SMELT_RELATIVE_U, relativeSampling(facts, metal, USUAL_SAMPLE_G.smelt))
  );
}

/** A matte that is less than this share of the sample is a crumb: not worth an assay of its own. Common practice. */
const LEAST_MATTE_FRAC = 0.01;

/**
 * The matte of each treatment whose test smelts of the lot gave any and where none of it was assayed, under the best
 * option of that treatment: mass of matte over mass of sample, all tests that count together.
 */
export function unknownMattes(
  { facts, input }: LotQuestion,
  ranked: readonly Pick<OptionResult, 'id'>[],
): Matte[] {
  const inHouse = ranked.flatMap(({ id }) => {
    const option = input.options.find((one) => one.id === id);
    return option?.kind === 'in-house' ? [option] : [];
  });
  const best = new Map(inHouse.toReversed().map((option) => [option.treatmentId, option]));
  return [...best.values()].toReversed().flatMap((option): Matte[] => {
    const assayed = facts.trials
      .filter(({ treatmentId }) => treatmentId === option.treatmentId)
      .flatMap(({ smelts }) => smelts)
      .some(
        ({ setAsideReason, matteGoldGpt, matteSilverGpt }) =>
          setAsideReason === null && (matteGoldGpt !== null || matteSilverGpt !== null),
      );
    const kgPerKg = measuredMatte(facts.trials, option.treatmentId)?.likelyFrac ?? 0;
    return !assayed && kgPerKg >= LEAST_MATTE_FRAC ? [{ option, kgPerKg }] : [];
  });
}

function matteInquiry({ input }: LotQuestion, { option, kgPerKg }: Matte, name: string): LotInquiry {
  const { gradeGpt, recoveryFrac } = input.draws;
  /** Half of what the button does not get: what is expected of the matte before anybody looked. */
  const expectedGpt = (metal: Metal): number => {
    const recovered = meanOfDraws(recoveryFrac[option.treatmentId]![metal]);
    return (0.5 * meanOfDraws(gradeGpt[metal]) * (1 - recovered)) / kgPerKg;
  };
  const uGpt = (metal: Metal) => usualAssayUncertainty({ value: expectedGpt(metal), unit: 'g/t' });
  return {
    costOf: 'matteAssay',
    inquiry: {
      kind: 'matte-assay',
      id: `matte-assay/${option.treatmentId}`,
      name: `An assay of the matte of “${name}” (is it worth smelting again?)`,
      treatmentId: option.treatmentId,
      replicates: 1,
      uGpt: { Au: uGpt('Au'), Ag: uGpt('Ag') },
      cost: 0,
    },
  };
}

/**
 * What could be found out before a lot is committed: one more test smelt by each treatment
 * compared (the first by those not tried yet; for a treatment that roasts, that is the roast
 * test), a lab's head assay, an assay of the matte of each treatment that gives any, and the metal prices. Costs are left at 0: see `pricedInquiries`.
 * Nothing where neither gold nor silver of the lot is known: every test would then be worth more than can be said.
 */
export function lotInquiries(
  question: LotQuestion,
  ranked: readonly Pick<OptionResult, 'id'>[],
): LotInquiry[] {
  const { facts, input, evidence } = question;
  const { draws, options, prices } = input;
  const { summary } = evidence.inference;
  if (METALS.every((metal) => summary[metal].gradeGpt === null)) return [];
  const gradeGpt = { Au: meanOfDraws(draws.gradeGpt.Au), Ag: meanOfDraws(draws.gradeGpt.Ag) };
  const compared = new Set(options.flatMap((one) => (one.kind === 'in-house' ? [one.treatmentId] : [])));
  const smelts = facts.treatments
    .filter(({ id }) => compared.has(id))
    .map(({ id, name, roast }): LotInquiry => {
      const recovery = draws.recoveryFrac[id]!;
      const tried = METALS.some((metal) =>
        summary[metal].recoveries.some((one) => one.treatmentId === id && one.testCount > 0),
      );
      const uGpt = (metal: Metal) =>
        relativeUOfSmelts(facts, evidence, metal) * gradeGpt[metal] * meanOfDraws(recovery[metal]);
      const first = roast
        ? `A roast test and first test smelt by “${name}”`
        : `A first test smelt by “${name}”`;
      return {
        costOf: roast ? 'roastTest' : 'testSmelt',
        inquiry: {
          kind: 'test-smelt',
          id: `test-smelt/${id}`,
          name: tried ? `One more test smelt by “${name}”` : first,
          treatmentId: id,
          replicates: 1,
          uGpt: { Au: uGpt('Au'), Ag: uGpt('Ag') },
          cost: 0,
        },
      };
    });
  const assayU = (metal: Metal) =>
    Math.hypot(
      usualAssayUncertainty({ value: gradeGpt[metal], unit: 'g/t' }),
      gradeGpt[metal] * relativeSampling(facts, metal, USUAL_SAMPLE_G.lab),
    );
  const assay: LotInquiry = {
    costOf: 'labAssay',
    inquiry: {
      kind: 'lab-assay',
      id: 'lab-assay',
      name: 'A head assay by a laboratory',
      replicates: 1,
      uGpt: { Au: assayU('Au'), Ag: assayU('Ag') },
      cost: 0,
    },
  };
  const best = ranked.slice(0, 2).map(({ id }) => options.find((option) => option.id === id));
  const horizonDays = Math.max(0, ...best.map((option) => option?.horizonDays ?? 0));
  const moves = METALS.some((metal) => prices[metal].annualVolatilityFrac > 0) && horizonDays > 0;
  const price: LotInquiry = {
    costOf: 'fixedPrice',
    inquiry: {
      kind: 'price',
      id: 'price',
      name: 'Knowing the metal prices before deciding (fixed, or waited for)',
      horizonDays,
      cost: 0,
    },
  };
  const mattes = unknownMattes(question, ranked).map((matte) => {
    const treatment = facts.treatments.find(({ id }) => id === matte.option.treatmentId);
    return matteInquiry(question, matte, treatment?.name ?? matte.option.name);
  });
  return [...smelts, assay, ...mattes, ...(moves ? [price] : [])];
}

export interface ValuedInquiry extends InquiryValue {
  costOf: keyof InquiryCosts;
}

/** Inquiries at the owner's costs, the greatest net gain first; what they are worth stays as it was worked out. */
export function pricedInquiries(
  valued: readonly ValuedInquiry[],
  costs: InquiryCosts,
  said: Pick<DecideInput, 'currency' | 'subject'>,
): ValuedInquiry[] {
  return valued
    .map((one) => ({ ...atCost(one, costs[one.costOf], said), costOf: one.costOf }))
    .toSorted((a, b) => b.netGain - a.netGain);
}
