import { breakEvens } from '../../api/calc/economics/break-even.ts';
import { decideDrawn } from '../../api/calc/economics/decide.ts';
import { drivers } from '../../api/calc/economics/drivers.ts';
import { drawDecision } from '../../api/calc/economics/simulate.ts';
import { inferLot } from '../../api/calc/evidence/infer-lot.ts';
import type { InferLotInput, MetalObservation } from '../../api/calc/evidence/lot-evidence.ts';
import { createRandom } from '../../api/calc/random.ts';
import { bestTwo, inventedDecision, lotDraws } from './invented-decision.ts';

export interface Time {
  wallMs: number;
  cpuMs: number;
}

/** Elapsed time, and processor time of all the program's threads together. */
function timed<Result>(work: () => Result): [Result, Time] {
  const cpu = process.cpuUsage();
  const start = performance.now();
  const result = work();
  const wallMs = performance.now() - start;
  const { user, system } = process.cpuUsage(cpu);
  return [result, { wallMs, cpuMs: (user + system) / 1000 }];
}

const peakMb = (): number => process.resourceUsage().maxRSS / 1024;

/** Decision, break-evens and drivers, each time from nothing but the lot's draws. */
export function measureDecision(drawCount: number, repeats: number) {
  const draws = lotDraws(drawCount);
  const once = () => {
    const input = inventedDecision(draws);
    const [{ drawn, decision }, decide] = timed(() => {
      const made = drawDecision(input);
      return { drawn: made, decision: decideDrawn(made) };
    });
    const [firstId, secondId] = bestTwo(decision.options);
    const [turns, breakEvenTime] = timed(() => breakEvens({ input, firstId, secondId, drawn }));
    const [shares, driverTime] = timed(() => drivers({ input, firstId, secondId, drawn }));
    return {
      times: { decide, breakEvens: breakEvenTime, drivers: driverTime },
      results: {
        pair: [firstId, secondId],
        ranked: decision.options.map(({ id, netValue: { mean, sd }, chanceBestFrac }) => ({
          option: id,
          mean,
          sd,
          chance: chanceBestFrac,
        })),
        breakEvens: turns.map(({ id, crossings }) => ({ id, crossings })),
        drivers: shares.map(({ id, shareFrac }) => ({ id, shareFrac })),
      },
    };
  };
  const first = once();
  const firstPeakMb = peakMb();
  const others = Array.from({ length: repeats - 1 }, once);
  return {
    node: process.version,
    runs: [first, ...others].map(({ times }) => times),
    peakMb: firstPeakMb,
    ...first.results,
  };
}

/** 40 results of both metals: five test smelts of each of six treatments and ten lab assays. */
function inventedEvidence(drawCount: number): InferLotInput {
  const random = createRandom(11, 'bench evidence');
  const treatments = Array.from({ length: 6 }, (_, t) => ({
    id: `treatment-${t}`,
    name: `Treatment ${t}`,
    recoveryPrior: { Au: { mean: 0.82 + 0.02 * t, sd: 0.06 }, Ag: { mean: 0.78 + 0.02 * t, sd: 0.07 } },
  }));
  const results = (gradeGpt: number, uFrac: number, spread: number) => {
    const seen = (expected: number) => expected * random.lognormal({ median: 1, sdLog: spread });
    const smelts: MetalObservation[] = treatments.flatMap(({ id }, t) =>
      Array.from({ length: 5 }, (_, n) => {
        const value = seen(gradeGpt * (0.85 + 0.02 * t));
        return { treatmentId: id, gradeGpt: value, uGpt: uFrac * value, label: `${id} ${n}` };
      }),
    );
    const labs = Array.from({ length: 10 }, (_, n) => {
      const value = seen(gradeGpt);
      return { gradeGpt: value, uGpt: 2 * uFrac * value, label: `assay ${n}` };
    });
    return { smelts, labs };
  };
  return {
    metal: { Au: results(900, 0.01, 0.08), Ag: results(3000, 0.01, 0.05) },
    treatments,
    drawCount,
    seed: 5,
  };
}

export function measureInference(drawCount: number, repeats: number) {
  const input = inventedEvidence(drawCount);
  const runs: Time[] = [];
  let points = 0;
  for (let n = 0; n < repeats; n++) {
    const [{ summary }, time] = timed(() => inferLot(input));
    points = (summary.Au.quadrature?.points ?? 0) + (summary.Ag.quadrature?.points ?? 0);
    runs.push(time);
  }
  return { runs, peakMb: peakMb(), points };
}
