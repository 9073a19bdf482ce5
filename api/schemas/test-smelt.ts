import { z } from 'zod';
import { id, isoDate, name, number, text, version } from './fields.ts';

const gramsOrMissing = number({ min: 0, max: 100_000 }).nullable().default(null);
const gradeOrMissing = number({ min: 0, max: 1_000_000 }).nullable().default(null);

export const newTrial = z.object({
  lotId: id,
  treatmentId: id.nullable().default(null),
  name: name(),
  remarks: text(2000).default(''),
});
export const trialChange = newTrial.extend({ version });
export const trial = newTrial.extend({ id, version });
export type Trial = z.infer<typeof trial>;

/** Masses in grams, beads in milligrams. Only the sample's mass must be there: null is 'not weighed'. */
export const testSmeltFields = z.object({
  trialId: id,
  sample: name(60),
  smeltedOn: isoDate,
  sampleMassG: number({ above: 0, max: 100_000 }),
  roasted: z.boolean(),
  massBeforeRoastG: number({ above: 0, max: 100_000 }).nullable().default(null),
  massAfterRoastG: number({ above: 0, max: 100_000 }).nullable().default(null),
  roastHours: number({ min: 0, max: 200 }).nullable().default(null),
  roastTempC: number({ min: 0, max: 1300 }).nullable().default(null),
  reagents: z
    .array(z.object({ supplyId: id, massG: number({ above: 0, max: 100_000 }) }))
    .max(40)
    .default([])
    .refine(
      (reagents) => new Set(reagents.map((one) => one.supplyId)).size === reagents.length,
      'must name each reagent once',
    ),
  collectorLeadG: gramsOrMissing,
  ironInG: gramsOrMissing,
  ironOutG: gramsOrMissing,
  crucibleVolumeMl: number({ above: 0, max: 100_000 }).nullable().default(null),
  buttonG: gramsOrMissing,
  matteG: gramsOrMissing,
  slagG: gramsOrMissing,
  beadMg: number({ min: 0, max: 10_000_000 }).nullable().default(null),
  partedGoldMg: number({ min: 0, max: 10_000_000 }).nullable().default(null),
  /** Added to the bead after it was weighed, so that it would part. */
  inquartSilverMg: number({ min: 0, max: 10_000_000 }).nullable().default(null),
  matteGoldGpt: gradeOrMissing,
  matteSilverGpt: gradeOrMissing,
  slagGoldGpt: gradeOrMissing,
  slagSilverGpt: gradeOrMissing,
  /** Silver in the collector lead, from a blank cupellation. */
  blankMgPerLeadG: number({ min: 0, max: 100 }).nullable().default(null),
  blankStandardUncertaintyMgPerLeadG: number({ min: 0, max: 100 }).nullable().default(null),
  sampleBalanceId: id,
  beadBalanceId: id,
  setAsideReason: text(500).min(1, 'must say why the test is set aside').nullable().default(null),
  remarks: text(2000).default(''),
});

type Weighings = Pick<
  z.infer<typeof testSmeltFields>,
  | 'roasted'
  | 'massBeforeRoastG'
  | 'massAfterRoastG'
  | 'roastHours'
  | 'roastTempC'
  | 'buttonG'
  | 'beadMg'
  | 'partedGoldMg'
>;

/** What cannot be, whatever was smelted: refused; everything merely odd is a finding of the calculation. */
export function impossibilities(smelt: Weighings, context: z.RefinementCtx): void {
  const refuse = (path: keyof Weighings, message: string) =>
    context.addIssue({ code: 'custom', path: [path], message, input: smelt[path] });
  if (smelt.beadMg !== null && smelt.buttonG !== null && smelt.beadMg > smelt.buttonG * 1000)
    refuse(
      'beadMg',
      `must not be heavier than the button it came from (${smelt.buttonG} g); beads are in milligrams`,
    );
  if (smelt.partedGoldMg !== null && smelt.beadMg !== null && smelt.partedGoldMg > smelt.beadMg)
    refuse('partedGoldMg', `must not be heavier than the bead it was parted from (${smelt.beadMg} mg)`);
  const ofRoast = [smelt.massBeforeRoastG, smelt.massAfterRoastG, smelt.roastHours, smelt.roastTempC];
  if (!smelt.roasted && ofRoast.some((value) => value !== null))
    refuse('roasted', 'must be yes when masses, hours or temperature of a roast are given');
}

export const newTestSmelt = testSmeltFields.superRefine(impossibilities);
export const testSmeltChange = testSmeltFields.extend({ version }).superRefine(impossibilities);
export const testSmelt = testSmeltFields.extend({ id, version });
export type TestSmeltRecord = z.infer<typeof testSmelt>;

/** A lot's trials with their test smelts, the evidence that everything downstream reads. */
export const trialWithSmelts = trial.extend({ smelts: z.array(testSmelt) });
export type TrialWithSmelts = z.infer<typeof trialWithSmelts>;
