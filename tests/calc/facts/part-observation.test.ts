import { describe, expect, it } from 'vitest';
import {
  gradeOfParts,
  partObservation,
  withoutAssaysOfParts,
} from '../../../api/calc/facts/part-observation.ts';
import type { LotFacts, MadeFromFacts } from '../../../api/calc/facts/records.ts';

const part = (code: string, dryMassKg: string, value: number, u: number, restsOnLots = [code]) => ({
  source: 'lot' as const,
  code,
  dryMassKg,
  gradeGpt: { Au: { value, u }, Ag: null },
  restsOnLots,
  labAssays: [],
});
const worked = (parts: MadeFromFacts[]) =>
  gradeOfParts(
    parts.map((facts) => ({
      facts,
      dryMassKg: facts.dryMassKg,
      grade: facts.gradeGpt.Au ?? { value: 0, u: 0 },
    })),
  );

describe('the grade of what a lot was made from', () => {
  it('is the mean by mass, with the uncertainties by mass', () => {
    // By hand: (60 × 900 + 20 × 100) ÷ 80 = 700; √((0.75 × 40)² + (0.25 × 160)²) = √(900 + 1600) = 50.
    const grade = worked([part('A', '60', 900, 40), part('B', '20', 100, 160)]);
    expect(grade.value).toBeCloseTo(700, 12);
    expect(grade.u).toBeCloseTo(50, 12);
  });

  it('adds the errors of parts that rest on the same lot, instead of letting them cancel', () => {
    // Two halves of one split put together again are the lot they came from: u stays 40, not 40/√2.
    const again = worked([
      part('A-1', '50', 900, 40, ['A-1', 'A']),
      part('A-2', '50', 900, 40, ['A-2', 'A']),
    ]);
    expect(again.value).toBeCloseTo(900, 12);
    expect(again.u).toBeCloseTo(40, 12);
    // With a third that has nothing to do with them: ((0.25 + 0.25) × 40)² + (0.5 × 20)² = 400 + 100.
    const three = worked([
      part('A-1', '25', 900, 40, ['A-1', 'A']),
      part('B', '50', 100, 20),
      part('A-2', '25', 900, 40, ['A-2', 'A']),
    ]);
    expect(three.u).toBeCloseTo(Math.sqrt(500), 12);
  });

  it('says nothing of a metal that is not known of every part, and says why', () => {
    const unknown = { ...part('2026-06-01', '10', 0, 0), gradeGpt: { Au: null, Ag: null } };
    const { observations, findings } = partObservation([part('A', '60', 900, 40), unknown], 'Au');
    expect(observations).toEqual([]);
    expect(findings[0]?.sentence).toContain('2026-06-01 is not known');
    expect(partObservation([unknown], 'Au')).toEqual({ observations: [], findings: [] });
    expect(partObservation([part('A', '60', 900, 40)], 'Ag')).toEqual({ observations: [], findings: [] });
  });

  it('names its sources', () => {
    const { observations } = partObservation([part('A', '60', 900, 40), part('B', '20', 100, 160)], 'Au');
    expect(observations).toEqual([{ gradeGpt: 700, uGpt: 50, label: 'made from A and B, by mass' }]);
  });
});

describe('an assay of a part', () => {
  const assay = (certificate: string, value: string): LotFacts['labAssays'][number] => ({
    id: certificate,
    laboratory: 'Invented laboratory',
    certificate,
    element: 'Au',
    unit: 'g/t',
    value,
    standardUncertainty: '10',
    sampleMassG: null,
  });
  const lot = (labAssays: LotFacts['labAssays']): LotFacts => ({
    id: 'C',
    code: 'C',
    moistureFrac: '0',
    dryMassKg: '80',
    minerals: [],
    labAssays,
    sampling: null,
  });

  it('that was entered for the blend once more counts once', () => {
    const own = assay('Q-2', '690');
    const facts = {
      lot: lot([assay('Q-1', '900.0'), own]),
      madeFrom: [{ ...part('A', '60', 900, 40), labAssays: [assay('Q-1', '900')] }],
    };
    const kept = withoutAssaysOfParts(facts);
    expect(kept.facts.lot.labAssays).toEqual([own]);
    expect(kept.findings).toMatchObject([{ code: 'assay-of-part-copied', path: '/labAssays/0' }]);
  });

  it('is left alone where the lot was made from nothing', () => {
    const facts = { lot: lot([assay('Q-1', '900')]) };
    expect(withoutAssaysOfParts(facts)).toEqual({ facts, findings: [] });
  });
});
