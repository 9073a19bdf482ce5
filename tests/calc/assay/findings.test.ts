import { describe, expect, it } from 'vitest';
import type { TestSmelt } from '../../../api/calc/assay/test-smelt.ts';
import { workTestSmelt } from '../../../api/calc/assay/test-smelt.ts';
import { smeltOf } from './smelt-of.ts';

const coarse = { name: 'bench balance', readabilityG: 0.001, repeatabilityG: 0 };
const loss = { silverLossFrac: { value: 0.02, u: 0.01 }, goldLossFrac: { value: 0.002, u: 0.001 } };

/** What is wrong, what is said of it, and what cannot be worked out because of it. */
const cases: [string, Partial<TestSmelt>, string, string, (keyof ReturnType<typeof workTestSmelt>)[]][] = [
  [
    'no sample mass',
    { sampleMassG: 0 },
    'sample-mass-missing',
    '/sampleMassG',
    ['goldGpt', 'silverGpt', 'leadInG'],
  ],
  ['a negative bead', { beadMg: -1 }, 'impossible-entry', '/beadMg', ['silverGpt']],
  [
    'a reagent that is not a number',
    { reagents: [{ name: 'silica', massG: Number.NaN }] },
    'impossible-entry',
    '/reagents/0/massG',
    [],
  ],
  [
    'a negative roast mass',
    { roast: { massBeforeG: 100, massAfterG: -3, hours: null, tempC: null } },
    'impossible-entry',
    '/roast/massAfterG',
    ['roastLossFrac'],
  ],
  [
    'a negative blank',
    { blankMgPerGLead: { value: -1, u: 0 } },
    'impossible-entry',
    '/blankMgPerGLead',
    ['blankMg'],
  ],
  [
    'more lead than sample',
    { sampleLeadFrac: { value: 1.2, u: 0 } },
    'impossible-entry',
    '/sampleLeadFrac',
    [],
  ],
  [
    'a loss of everything',
    { cupellationCorrection: { ...loss, silverLossFrac: { value: 1, u: 0 } } },
    'impossible-entry',
    '/cupellationCorrection',
    [],
  ],
  [
    'a negative ratio',
    { silverToGoldRatioFromAssay: { value: -2, u: 0 } },
    'impossible-entry',
    '/silverToGoldRatioFromAssay',
    [],
  ],
  [
    'a negative sampling error',
    { sampling: { relativeSdGold: -0.1, relativeSdSilver: 0 } },
    'impossible-entry',
    '/sampling',
    [],
  ],
  [
    'an impossible balance',
    { beadBalance: { ...coarse, readabilityG: Number.NaN } },
    'impossible-entry',
    '/beadBalance',
    ['goldGpt'],
  ],
  ['no bead', { beadMg: null }, 'bead-missing', '/beadMg', ['silverGpt', 'goldPlusSilverGpt']],
  ['no parting', { partedGoldMg: null }, 'gold-not-parted', '/partedGoldMg', ['goldGpt', 'silverGpt']],
  [
    'a split by ratio',
    { partedGoldMg: null, silverToGoldRatioFromAssay: { value: 4, u: 0 } },
    'split-by-lab-ratio',
    '/silverToGoldRatioFromAssay',
    [],
  ],
  [
    'more gold than bead',
    { partedGoldMg: 61 },
    'parted-gold-heavier-than-bead',
    '/partedGoldMg',
    ['goldGpt', 'silverGpt', 'goldPlusSilverGpt'],
  ],
  [
    'a bead in the wrong unit',
    { beadMg: 60_001 },
    'bead-heavier-than-button',
    '/beadMg',
    ['goldGpt', 'silverGpt', 'goldPlusSilverGpt'],
  ],
  [
    'a bead near readability',
    { beadMg: 4, partedGoldMg: 1, beadBalance: coarse },
    'bead-near-readability',
    '/beadMg',
    [],
  ],
  [
    'parted gold near readability',
    { partedGoldMg: 1, beadBalance: coarse },
    'parted-gold-near-readability',
    '/partedGoldMg',
    [],
  ],
  ['too little silver to part', { partedGoldMg: 20 }, 'too-little-silver-to-part', '/partedGoldMg', []],
  [
    'lead that gives more than the bead',
    { blankMgPerGLead: { value: 2, u: 0.1 } },
    'blank-larger-than-bead',
    '/blankMgPerGLead',
    ['silverGpt', 'goldPlusSilverGpt'],
  ],
  [
    'less silver than nothing',
    { partedGoldMg: 59, blankMgPerGLead: { value: 0.02, u: 0 } },
    'silver-less-than-nothing',
    '/beadMg',
    ['silverGpt'],
  ],
  ['no blank', { blankMgPerGLead: null }, 'blank-missing', '/blankMgPerGLead', ['blankMg']],
  ['litharge beside collector lead', { lithargeG: 10 }, 'blank-leaves-out-litharge', '/lithargeG', []],
  [
    'no lead recorded',
    { collectorLeadG: null },
    'lead-charged-missing',
    '/collectorLeadG',
    ['leadInG', 'leadReturnFrac', 'blankMg'],
  ],
  ['no button', { buttonG: null }, 'button-missing', '/buttonG', ['leadReturnFrac', 'leadMissingG']],
  ['a button heavier than its lead', { buttonG: 64 }, 'button-heavier-than-lead', '/buttonG', []],
  ['lead that is missing', { buttonG: 50 }, 'lead-missing-from-button', '/buttonG', []],
  ['no matte mass', { matteG: null }, 'matte-missing', '/matteG', ['matteFallFrac']],
  ['matte', { matteG: 9 }, 'matte-fell', '/matteG', []],
  ['no slag mass', { slagG: null }, 'slag-missing', '/slagG', ['slagFallFrac']],
  ['products heavier than the charge', { slagG: 250 }, 'products-heavier-than-charge', '', []],
  ['iron that grew', { ironInG: 20, ironOutG: 21 }, 'iron-gained-mass', '/ironOutG', []],
  [
    'a crucible filled too high',
    { crucibleVolumeMl: 250, chargeBulkVolumeMl: 200 },
    'crucible-over-filled',
    '/crucibleVolumeMl',
    [],
  ],
  [
    'a roast that gained',
    { roast: { massBeforeG: 100, massAfterG: 101, hours: 1, tempC: 480 } },
    'roast-gained-mass',
    '/roast/massAfterG',
    [],
  ],
  [
    'a roast of another mass',
    { roast: { massBeforeG: 400, massAfterG: 300, hours: 1, tempC: 480 } },
    'roast-mass-differs-from-sample',
    '/roast/massBeforeG',
    [],
  ],
  [
    'a roast not weighed after',
    { roast: { massBeforeG: 100, massAfterG: null, hours: 1, tempC: 480 } },
    'roast-mass-missing',
    '/roast/massAfterG',
    ['roastLossFrac'],
  ],
  [
    'a cupellation correction',
    { cupellationCorrection: loss },
    'cupellation-corrected',
    '/cupellationCorrection',
    [],
  ],
  [
    'a correction without a split',
    { cupellationCorrection: loss, partedGoldMg: null },
    'correction-needs-split',
    '/cupellationCorrection',
    [],
  ],
  ['no sampling error', { sampling: null }, 'sampling-error-left-out', '/sampling', []],
];

describe('what a test smelt says', () => {
  it('says nothing of one with nothing wrong, and gives everything', () => {
    const worked = workTestSmelt(smeltOf());
    expect(worked.findings).toEqual([]);
    expect(
      Object.entries(worked).filter(([name, value]) => value === null && name !== 'roastLossFrac'),
    ).toEqual([]);
  });

  it.each(cases)('speaks up about %s', (_, about, code, path, notWorkedOut) => {
    const worked = workTestSmelt(smeltOf(about));
    const finding = worked.findings.find((said) => said.code === code && said.path === path);
    expect(finding?.sentence).toMatch(/^[^a-z].*\.$/);
    for (const name of notWorkedOut) expect(worked[name]).toBeNull();
  });

  it('never gives a number that is not finite', () => {
    for (const [, about] of cases) {
      const text = JSON.stringify(workTestSmelt(smeltOf(about)), (_, value: unknown) =>
        typeof value === 'number' && !Number.isFinite(value) ? 'not finite' : value,
      );
      expect(text).not.toContain('not finite');
    }
  });

  it('fills a crucible to two thirds without a word, to three quarters with a note', () => {
    const said = (chargeBulkVolumeMl: number) =>
      workTestSmelt(smeltOf({ crucibleVolumeMl: 300, chargeBulkVolumeMl })).findings.map(
        ({ level }) => level,
      );
    expect(said(200)).toEqual([]);
    expect(said(220)).toEqual(['note']);
    expect(said(230)).toEqual(['warning']);
  });

  it('counts silver added for parting, and the calcine instead of the sample', () => {
    expect(workTestSmelt(smeltOf({ partedGoldMg: 20, inquartSilverMg: 10 })).findings).toEqual([]);
    const roast = { massBeforeG: 100, massAfterG: 70, hours: 1, tempC: 480 };
    const codes = workTestSmelt(smeltOf({ roast, slagG: 215 })).findings.map(({ code }) => code);
    expect(codes).toEqual(['products-heavier-than-charge']);
  });

  it('does not mistake the play of the scales for a fault', () => {
    expect(workTestSmelt(smeltOf({ buttonG: 60.01 })).findings).toEqual([]);
  });
});
