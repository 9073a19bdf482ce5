import { describe, expect, it } from 'vitest';
import { nextSample } from '../../web/pages/test-smelts/trial-fields.tsx';
import { nextStep } from '../../web/pages/test-smelts/steps.tsx';
import { workLiveSmelt } from '../../web/pages/test-smelts/live-smelt.ts';
import type { TestSmeltRecord, TrialWithSmelts } from '../../api/schemas/test-smelt.ts';
import { facts, record } from '../calc/facts/bench-facts.ts';

const onTheBench = {
  ...record,
  buttonG: null,
  matteG: null,
  slagG: null,
  beadMg: null,
  partedGoldMg: null,
};
const codes = (findings: readonly { code: string }[]): string[] => findings.map(({ code }) => code);

describe('a test smelt that is being weighed', () => {
  it('is warned of an over-filled crucible before the melt, and told afterwards that metal may be lost', () => {
    const small = { crucibleVolumeMl: 120 };
    const before = workLiveSmelt({ ...onTheBench, ...small }, facts);
    expect(before.melted).toBe(false);
    expect(codes(before.foreseen)).toContain('crucible-over-filled');
    expect(codes(before.productFindings)).not.toContain('crucible-over-filled');
    const after = workLiveSmelt({ ...record, ...small }, facts);
    expect(after.melted).toBe(true);
    expect(codes([...after.chargeFindings, ...after.productFindings])).toContain('crucible-over-filled');
  });

  it('says of a bead heavier than its button where the bead is typed', () => {
    const live = workLiveSmelt({ ...record, beadMg: 34_100 }, facts);
    expect(codes(live.beadFindings)).toContain('bead-heavier-than-button');
    expect(live.result?.goldGpt).toBeNull();
  });

  it('lists what is still to come, not as faults', () => {
    const live = workLiveSmelt(onTheBench, facts);
    expect(live.toCome.join()).toMatch(/blank.*button.*bead.*matte.*slag/);
    const said = [...live.chargeFindings, ...live.productFindings, ...live.beadFindings];
    expect(said).toEqual([]);
    expect(live.result?.goldPlusSilverGpt).toBeNull();
  });

  it('gives grade and lead return as soon as they can be known', () => {
    // 1000 × 75 mg / 100 g; (320 − 75) mg; 34 g of 40 g.
    const { result } = workLiveSmelt(record, facts);
    expect(result?.goldGpt?.value).toBeCloseTo(750, 9);
    expect(result?.silverGpt?.value).toBeCloseTo(2450, 9);
    expect(result?.leadReturnFrac?.value).toBeCloseTo(0.85, 9);
  });

  it('has no result without a sample mass or a balance, and does not fail', () => {
    expect(workLiveSmelt({ ...record, sampleMassG: 0 }, facts).result).toBeNull();
    expect(workLiveSmelt({ ...record, beadBalanceId: '' }, facts).result).toBeNull();
  });

  it('shows every finding of the calculation but what is to come or was foreseen, in one place', () => {
    const odd = {
      ...record,
      roasted: true,
      massBeforeRoastG: 100,
      massAfterRoastG: 104,
      ironInG: 5,
      ironOutG: 9,
    };
    const live = workLiveSmelt(odd, facts);
    const said = codes([...live.chargeFindings, ...live.productFindings, ...live.beadFindings]);
    expect(said).toEqual(expect.arrayContaining(['roast-gained-mass', 'iron-gained-mass']));
    expect(new Set(said).size).toBe(said.length);
  });
});

describe('what a test waits for', () => {
  const inBooks: TestSmeltRecord = {
    ...record,
    trialId: '',
    smeltedOn: '2031-05-04',
    remarks: '',
    version: 1,
  };

  it('goes from the furnace over the bead to parting', () => {
    expect(nextStep({ ...inBooks, buttonG: null, beadMg: null })?.step).toBe('furnace');
    expect(nextStep({ ...inBooks, beadMg: null })?.waitsFor).toBe('the bead');
    expect(nextStep({ ...inBooks, partedGoldMg: null })?.waitsFor).toBe('parting');
    expect(nextStep(inBooks)).toBeNull();
    expect(nextStep({ ...inBooks, beadMg: null, setAsideReason: 'Spilled' })).toBeNull();
  });

  it('numbers the next test of a trial after the highest', () => {
    const trial: TrialWithSmelts = {
      id: '',
      lotId: '',
      treatmentId: null,
      name: 'Raw',
      remarks: '',
      version: 1,
      smelts: ['2', '9', 'bag B'].map((sample) => ({ ...inBooks, sample })),
    };
    expect(nextSample(trial)).toBe('10');
    expect(nextSample(undefined)).toBe('1');
  });
});
