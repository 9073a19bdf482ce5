import { expect, it } from 'vitest';
import { nextQuestions } from '../../../api/calc/books/next-questions.ts';

it('asks for what nothing speaks of, then for most gold at stake, then for treatments not known to 6 points', () => {
  const questions = nextQuestions({
    lots: [
      { code: 'L-1', leftKg: 100, goldGpt: { p10: 200, p90: 300 } },
      { code: 'L-2', leftKg: 400, goldGpt: { p10: 90, p90: 130 } },
      { code: 'L-3', leftKg: 0, goldGpt: { p10: 0, p90: 1000 } },
      { code: 'L-4', leftKg: 50, goldGpt: null },
    ],
    treatments: [
      { name: 'Roast', recoverySdFrac: 0.02, lotsTested: 9 },
      { name: 'Iron', recoverySdFrac: 0.05, lotsTested: 1 },
    ],
    pricePerOzt: 3110.34768,
    currency: 'USD',
  });
  expect(questions.map((one) => one.slice(0, 30))).toEqual([
    'What does lot L-4 hold? Nothin',
    'What does lot L-2 hold? Its 40',
    'What does lot L-1 hold? Its 10',
    'What does “Iron” recover? Its ',
  ]);
  // 400 kg × 40 g/t are 16 g; at 100 a gram 1,600.
  expect(questions[1]).toContain('16 g lie between them, about 1,600 USD');
  expect(questions[3]).toContain('± 10 points, from tests of one lot');
});
