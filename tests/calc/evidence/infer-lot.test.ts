import { describe, expect, it } from 'vitest';
import { inferLot } from '../../../api/calc/evidence/infer-lot.ts';
import type { InferLotInput, MetalEvidence } from '../../../api/calc/evidence/lot-evidence.ts';
import { summarize } from '../../../api/calc/evidence/summary.ts';
import { createRandom } from '../../../api/calc/random.ts';

const nothing: MetalEvidence = { smelts: [], labs: [] };
const known = (frac: number) => ({ median: frac, sdLog: 0 });

function lot(
  parts: Partial<InferLotInput> & { gold?: MetalEvidence; silver?: MetalEvidence },
): InferLotInput {
  const { gold = nothing, silver = nothing, ...rest } = parts;
  return {
    metal: { Au: gold, Ag: silver },
    treatments: [
      {
        id: 'plain',
        name: 'Smelt as it is',
        recoveryPrior: { Au: { mean: 0.8, sd: 0.1 }, Ag: { mean: 0.7, sd: 0.15 } },
      },
      {
        id: 'roast',
        name: 'Roast first',
        recoveryPrior: { Au: { mean: 0.9, sd: 0.05 }, Ag: { mean: 0.85, sd: 0.1 } },
      },
    ],
    drawCount: 20_000,
    seed: 1,
    ...rest,
  };
}

const lab = (gradeGpt: number, uGpt: number) => ({ gradeGpt, uGpt, label: `lab ${gradeGpt}` });
const smelt = (treatmentId: string, gradeGpt: number, uGpt: number) => ({
  treatmentId,
  gradeGpt,
  uGpt,
  label: `test ${gradeGpt}`,
});

describe('closed forms', () => {
  it('weights lab assays by their inverse variances when nothing else speaks', () => {
    // Normal-linear model: posterior mean Σ(x/u²)/Σ(1/u²), sd (Σ 1/u²)^−½ (A. Gelman et al., *Bayesian Data
    // Analysis*, section 2.5). Small u beside the grade, so that the prior on ln grade is flat over it.
    const gold = { smelts: [], labs: [lab(100, 0.4), lab(101, 0.3), lab(100.6, 0.5)] };
    const { summary } = inferLot(
      lot({ gold, replicateSdPrior: { Au: known(0), Ag: known(0) }, drawCount: 200_000 }),
    );
    const weights = [0.4, 0.3, 0.5].map((u) => 1 / (u * u));
    const total = weights.reduce((a, b) => a + b, 0);
    const mean = (100 * weights[0]! + 101 * weights[1]! + 100.6 * weights[2]!) / total;
    const sd = 1 / Math.sqrt(total);
    expect(Math.abs(summary.Au.gradeGpt!.mean - mean)).toBeLessThan(
      0.01 * sd + (4 * sd) / Math.sqrt(200_000),
    );
    expect(summary.Au.gradeGpt!.sd / sd).toBeCloseTo(1, 1);
    expect(summary.Au.gradeGpt!.p90).toBeCloseTo(mean + 1.2815516 * sd, 1);
  });

  it('divides by a recovery that is known', () => {
    const input = lot({
      gold: { labs: [], smelts: [smelt('plain', 80, 0.4), smelt('plain', 80.6, 0.4)] },
      replicateSdPrior: { Au: known(0), Ag: known(0) },
    });
    input.treatments[0]!.recoveryPrior.Au = { mean: 0.8, sd: 0 };
    const { summary, draws } = inferLot(input);
    expect(summary.Au.gradeGpt!.mean).toBeCloseTo(80.3 / 0.8, 1);
    expect(summary.Au.gradeGpt!.sd).toBeCloseTo(0.4 / Math.SQRT2 / 0.8, 2);
    expect(new Set(draws.recoveryFrac.plain!.Au).size).toBe(1);
    expect(draws.recoveryFrac.plain!.Au[0]).toBeCloseTo(0.8, 12);
  });

  it('weighs what was believed against what was found', () => {
    // Normal-normal in logarithms: ln grade ~ N(ln 100, 0.1²), one result of 120 with relative spread 0.1 and mean 1:
    // posterior mean half-way between ln 100 and ln 120 + 0.1²/2, sd 0.1/√2.
    const { draws } = inferLot(
      lot({
        gold: { smelts: [], labs: [lab(120, 0.001)] },
        gradePrior: { Au: { median: 100, sdLog: 0.1 }, Ag: { median: 100, sdLog: 1 } },
        replicateSdPrior: { Au: known(0.1), Ag: known(0.1) },
        drawCount: 100_000,
      }),
    );
    const { mean, sd } = summarize(draws.gradeGpt.Au.map(Math.log));
    expect(mean).toBeCloseTo((Math.log(100) + Math.log(120) + 0.005) / 2, 2.7);
    expect(sd).toBeCloseTo(0.1 / Math.SQRT2, 2.7);
  });

  it('spreads the uncertainty of a recovery onto the grade', () => {
    // ln grade = ln result − ln recovery, the prior on ln grade being flat: mean and variance are those of the two parts.
    const input = lot({
      gold: { labs: [], smelts: [smelt('plain', 80, 0.001)] },
      replicateSdPrior: { Au: known(0.03), Ag: known(0.03) },
      drawCount: 100_000,
    });
    input.treatments[0]!.recoveryPrior.Au = { mean: 0.8, sd: 0.02 };
    const { draws } = inferLot(input);
    const { mean, sd } = summarize(draws.gradeGpt.Au.map(Math.log));
    // E ln r ≈ ln 0.8 − 0.02²/(2 × 0.8²) and sd ln r ≈ 0.02/0.8 to second order.
    expect(Math.abs(mean - (Math.log(80) + 0.03 ** 2 / 2 - Math.log(0.8) + 0.025 ** 2 / 2))).toBeLessThan(
      0.001,
    );
    expect(sd / Math.hypot(0.03, 0.025)).toBeCloseTo(1, 1);
    const recovery = summarize(draws.recoveryFrac.plain!.Au);
    expect(recovery.mean).toBeCloseTo(0.8, 2.7);
    expect(recovery.sd).toBeCloseTo(0.02, 2.7);
  });

  it('adds a known replicate spread to the weighing error', () => {
    const gold = { smelts: [], labs: [lab(100, 0.5)] };
    const { summary } = inferLot(
      lot({ gold, replicateSdPrior: { Au: known(0.02), Ag: known(0.02) }, drawCount: 100_000 }),
    );
    expect(summary.Au.gradeGpt!.sd).toBeCloseTo(Math.hypot(0.5, 2), 1);
  });
});

/** The same posterior by weighting draws from the prior: slow and simple, shares no code with the quadrature. */
function byImportance(
  observed: { labs: number[]; plain: number[]; roast: number[]; u: number },
  logits: { plain: [number, number]; roast: [number, number] },
  replicate: { median: number; sdLog: number },
) {
  const random = createRandom(77, 'importance');
  let [total, grade, gradeSquare, plain, roast, cross] = [0, 0, 0, 0, 0, 0];
  const logDensity = (y: number, m: number, tau: number) => {
    const even = (x: number) => Math.asinh((x * tau) / observed.u);
    const z = (even(y) - even(m * Math.exp(-0.5 * tau * tau))) / tau;
    return -0.5 * z * z - 0.5 * Math.log(observed.u ** 2 + (tau * y) ** 2);
  };
  for (let n = 0; n < 1_500_000; n++) {
    const logGrade = Math.log(100) + 1.2 * (random.uniform() - 0.5);
    const g = Math.exp(logGrade);
    const tau = random.lognormal({ median: replicate.median, sdLog: replicate.sdLog });
    const recovery = ([mu, sd]: [number, number]) => 1 / (1 + Math.exp(-mu - sd * random.normal()));
    const rPlain = recovery(logits.plain);
    const rRoast = recovery(logits.roast);
    let log = -0.5 * ((logGrade - Math.log(50)) / 3) ** 2;
    for (const y of observed.labs) log += logDensity(y, g, tau);
    for (const y of observed.plain) log += logDensity(y, g * rPlain, tau);
    for (const y of observed.roast) log += logDensity(y, g * rRoast, tau);
    const w = Math.exp(log + 20);
    total += w;
    grade += w * g;
    gradeSquare += w * g * g;
    plain += w * rPlain;
    roast += w * rRoast;
    cross += w * rPlain * rRoast;
  }
  const mean = grade / total;
  return {
    grade: mean,
    gradeSd: Math.sqrt(gradeSquare / total - mean * mean),
    plain: plain / total,
    roast: roast / total,
    covariance: cross / total - (plain / total) * (roast / total),
  };
}

describe('the joint posterior', () => {
  it('agrees with weighted draws from the prior', () => {
    const gold: MetalEvidence = {
      labs: [lab(104, 2)],
      smelts: [smelt('plain', 78, 2), smelt('plain', 83, 2), smelt('roast', 93, 2)],
    };
    const result = inferLot(lot({ gold, drawCount: 100_000 }));
    // Logit-normals with mean 0.8, sd 0.1 and mean 0.9, sd 0.05, moments matched in numpy by Gauss–Hermite quadrature.
    const expected = byImportance(
      { labs: [104], plain: [78, 83], roast: [93], u: 2 },
      { plain: [1.50460731, 0.64747679], roast: [2.31403929, 0.54773076] },
      { median: 0.08, sdLog: 0.8 },
    );
    const { Au } = result.summary;
    expect(Au.gradeGpt!.mean).toBeCloseTo(expected.grade, 0);
    expect(Au.gradeGpt!.sd / expected.gradeSd).toBeCloseTo(1, 1);
    expect(Au.recoveries[0]!.posterior.mean).toBeCloseTo(expected.plain, 2);
    expect(Au.recoveries[1]!.posterior.mean).toBeCloseTo(expected.roast, 2);
    const { plain, roast } = result.draws.recoveryFrac;
    let covariance = 0;
    plain!.Au.forEach((r, n) => (covariance += (r - expected.plain) * (roast!.Au[n]! - expected.roast)));
    expect(covariance / plain!.Au.length / expected.covariance).toBeCloseTo(1, 0);
  });

  it('finds the grade and recoveries that made the results', () => {
    const random = createRandom(5);
    const truth = { grade: 140, plain: 0.72, roast: 0.93, tau: 0.04 };
    const observe = (grade: number) => grade * (1 + truth.tau * random.normal()) + 0.5 * random.normal();
    const gold: MetalEvidence = {
      labs: Array.from({ length: 30 }, () => lab(observe(truth.grade), 0.5)),
      smelts: [
        ...Array.from({ length: 30 }, () => smelt('plain', observe(truth.grade * truth.plain), 0.5)),
        ...Array.from({ length: 30 }, () => smelt('roast', observe(truth.grade * truth.roast), 0.5)),
      ],
    };
    const { Au } = inferLot(lot({ gold })).summary;
    for (const [found, sought] of [
      [Au.gradeGpt!, truth.grade],
      [Au.recoveries[0]!.posterior, truth.plain],
      [Au.recoveries[1]!.posterior, truth.roast],
      [Au.replicateSdFrac!, truth.tau],
    ] as const) {
      expect(Math.abs(found.mean - sought)).toBeLessThan(3 * found.sd);
      expect(found.sd / found.mean).toBeLessThan(0.15);
    }
  });

  it('keeps what was recovered narrow while the grade stays wide, where no lab assay fixes it', () => {
    const smelts = [1, 2, 3, 4].map((i) => smelt('plain', 80 + 0.2 * i, 0.5));
    const { draws, summary } = inferLot(lot({ gold: { labs: [], smelts } }));
    const recovered = draws.gradeGpt.Au.map((g, n) => g * draws.recoveryFrac.plain!.Au[n]!);
    const spread = (values: Float64Array) => summarize(values).sd / summarize(values).mean;
    expect(spread(recovered)).toBeLessThan(0.03);
    expect(spread(draws.gradeGpt.Au)).toBeGreaterThan(0.08);
    expect(summary.Au.gradeGpt!.p10).toBeGreaterThan(80);
  });

  it('is not made certain by two replicates that happen to agree', () => {
    const { summary } = inferLot(lot({ gold: { labs: [lab(100, 0.1), lab(100, 0.1)], smelts: [] } }));
    expect(summary.Au.gradeGpt!.sd).toBeGreaterThan(1);
  });

  it('leaves an untested treatment at its expected recovery', () => {
    const { summary } = inferLot(lot({ gold: { labs: [lab(100, 1)], smelts: [smelt('plain', 80, 1)] } }));
    const [, roast] = summary.Au.recoveries;
    expect(roast!.testCount).toBe(0);
    expect(roast!.posterior.mean).toBeCloseTo(0.9, 2);
    expect(roast!.posterior.sd).toBeCloseTo(0.05, 2);
    expect(roast!.prior.p10).toBeCloseTo(roast!.posterior.p10, 2);
  });

  it('repeats itself for a seed', () => {
    const input = lot({ gold: { labs: [lab(100, 1)], smelts: [smelt('plain', 80, 1)] }, drawCount: 500 });
    expect(inferLot(input).draws).toEqual(inferLot(input).draws);
    expect(inferLot({ ...input, seed: 2 }).draws.gradeGpt.Au).not.toEqual(inferLot(input).draws.gradeGpt.Au);
  });

  it('follows one precise result against many rough ones, however far apart', () => {
    const labs = [lab(10, 0.01), ...Array.from({ length: 20 }, () => lab(12, 0.6))];
    const { summary } = inferLot(
      lot({ gold: { labs, smelts: [] }, replicateSdPrior: { Au: known(0), Ag: known(0) } }),
    );
    const [exact, rough] = [1 / 0.01 ** 2, 20 / 0.6 ** 2];
    expect(summary.Au.gradeGpt!.mean).toBeCloseTo((10 * exact + 12 * rough) / (exact + rough), 3);
  });

  it('integrates over all the probability there is', () => {
    const gold = { labs: [lab(2500, 40)], smelts: [smelt('roast', 2300, 5), smelt('plain', 0.2, 0.3)] };
    const { quadrature } = inferLot(lot({ gold })).summary.Au;
    expect(quadrature!.edgeMassFrac).toBeLessThan(1e-6);
  });
});

describe('findings', () => {
  const codes = (input: InferLotInput) => inferLot(input).findings.map(({ code }) => code);

  it('blocks when nothing is known, and draws no metal', () => {
    const result = inferLot(lot({}));
    expect(result.findings).toContainEqual(
      expect.objectContaining({ code: 'nothing-known', level: 'blocker' }),
    );
    expect(result.draws.gradeGpt.Au.every((g) => g === 0)).toBe(true);
    expect(result.summary.Au.gradeGpt).toBeNull();
  });

  it('says that a sale is uncertain without a head assay', () => {
    const gold = { labs: [], smelts: [smelt('plain', 80, 1)] };
    expect(codes(lot({ gold }))).toEqual(
      expect.arrayContaining(['no-head-assay', 'metal-not-known', 'replicates-few']),
    );
    expect(codes(lot({ gold: { ...gold, labs: [lab(100, 1)] } }))).not.toContain('no-head-assay');
  });

  it('says which results it could not use', () => {
    const gold = {
      labs: [lab(100, 1), lab(Number.NaN, 1)],
      smelts: [smelt('leach', 80, 1), smelt('plain', 80, -1)],
    };
    const input = lot({ gold, unparted: [smelt('plain', 300, 3)] });
    const { findings } = inferLot(input);
    expect(findings.filter(({ code }) => code === 'observation-not-usable').map(({ path }) => path)).toEqual([
      '/metal/Au/labs/1',
      '/metal/Au/smelts/1',
    ]);
    expect(findings.map(({ code }) => code)).toEqual(
      expect.arrayContaining(['treatment-unknown', 'unparted-not-used']),
    );
  });

  it('speaks up when a test gave more than the lab found', () => {
    const gold = {
      labs: [lab(50, 0.5), lab(50.5, 0.5)],
      smelts: [smelt('plain', 90, 0.5), smelt('plain', 91, 0.5)],
    };
    expect(codes(lot({ gold }))).toContain('recovered-more-than-assayed');
  });

  it('speaks up when labs disagree', () => {
    expect(codes(lot({ gold: { labs: [lab(50, 0.5), lab(80, 0.5)], smelts: [] } }))).toContain(
      'labs-disagree',
    );
    expect(codes(lot({ gold: { labs: [lab(50, 0.5), lab(54, 0.5)], smelts: [] } }))).not.toContain(
      'labs-disagree',
    );
  });

  it('says grades in the unit of the owner', () => {
    const gradeUnit = { name: 'oz/short ton', gpt: 240 / 7 };
    const gold = { labs: [lab(60, 0.5), lab(96, 0.5)], smelts: [smelt('plain', 240, 0.5)] };
    const said = inferLot({ ...lot({ gold }), gradeUnit })
      .findings.map(({ sentence }) => sentence)
      .join(' ');
    // 60, 96, 240 and the mean of the labs, 78 g/t, × 7/240.
    expect(said).toContain('run from 1.75 oz/short ton');
    expect(said).toContain('to 2.8 oz/short ton');
    expect(said).toContain('gave 7 oz/short ton of gold, more than the 2.28 oz/short ton');
    expect(said).not.toContain('g/t');
  });

  it('blocks results that cannot all be true', () => {
    const gold = { labs: [], smelts: [smelt('plain', 10, 0.001), smelt('roast', 5000, 0.001)] };
    const result = inferLot(lot({ gold, replicateSdPrior: { Au: known(0), Ag: known(0) } }));
    expect(result.findings).toContainEqual(
      expect.objectContaining({ code: 'evidence-contradicts', level: 'blocker' }),
    );
    expect(result.draws.gradeGpt.Au.every((g) => g === 0)).toBe(true);
  });

  it('refuses an impossible expected recovery', () => {
    const input = lot({ gold: { labs: [lab(100, 1)], smelts: [smelt('plain', 80, 1)] } });
    input.treatments[0]!.recoveryPrior.Au = { mean: 1.2, sd: 0.1 };
    expect(codes(input)).toContain('recovery-prior-impossible');
    expect(inferLot(input).draws.recoveryFrac.plain!.Au.every((r) => r > 0 && r < 1)).toBe(true);
  });
});
