import type { TestSmelt } from '../../../api/calc/assay/test-smelt.ts';

/** An invented test smelt with nothing wrong; a test states only what it is about. */
export function smeltOf(about: Partial<TestSmelt> = {}): TestSmelt {
  return {
    sampleMassG: 100,
    roast: null,
    collectorLeadG: 60,
    lithargeG: null,
    reagents: [
      { name: 'soda ash', massG: 80 },
      { name: 'borax', massG: 60 },
    ],
    ironInG: null,
    ironOutG: null,
    crucibleVolumeMl: null,
    buttonG: 60,
    matteG: 0,
    slagG: 150,
    beadMg: 60,
    partedGoldMg: 10,
    sampleBalance: { name: 'bench balance', readabilityG: 0.01, repeatabilityG: 0 },
    beadBalance: { name: 'bead balance', readabilityG: 0.00001, repeatabilityG: 0 },
    blankMgPerGLead: { value: 0, u: 0 },
    cupellationCorrection: null,
    silverToGoldRatioFromAssay: null,
    sampling: { relativeSdGold: 0, relativeSdSilver: 0 },
    ...about,
  };
}
