import { inferLot } from '../../api/calc/evidence/infer-lot.ts';
import type { InferLotInput, MetalObservation } from '../../api/calc/evidence/lot-evidence.ts';
import { createRandom } from '../../api/calc/random.ts';
import { firstAndBest, rounded, table } from './report-table.ts';
import { sectionOf } from './section.ts';
import { peakMb, timed, type Time } from './timing.ts';

const DRAWS = 20_000;
const REPEATS = 7;

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

function measureInference(drawCount: number, repeats: number) {
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

export const inferenceSection = sectionOf({
  title: 'Grade and recovery inferred together',
  measures: { inference: () => measureInference(DRAWS, REPEATS) },
  write: ({ inference }) => {
    const cpu = firstAndBest(inference.runs, (run) => run.cpuMs);
    const wall = firstAndBest(inference.runs, (run) => run.wallMs);
    return [
      `${DRAWS.toLocaleString('en-US')} draws; 6 treatments, 2 metals, 40 results of each metal (30 test smelts, 10 lab assays);`,
      `${inference.points.toLocaleString('en-US')} points of quadrature. Best of ${REPEATS - 1} runs after the first.`,
      '',
      table(
        ['Inference, ms', 'best', 'first run'],
        [
          ['Processor time', rounded(cpu.best), rounded(cpu.first)],
          ['By the clock', rounded(wall.best), rounded(wall.first)],
        ],
      ),
      '',
      `Peak memory ${Math.round(inference.peakMb)} MB, with the runtime.`,
    ].join('\n');
  },
});
