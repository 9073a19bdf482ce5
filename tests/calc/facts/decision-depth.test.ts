import { describe, expect, it } from 'vitest';
import { decideDrawn } from '../../../api/calc/economics/decide.ts';
import { drawDecision } from '../../../api/calc/economics/simulate.ts';
import { decideLot, isBlocked, lotQuestion } from '../../../api/calc/facts/decide-lot.ts';
import { workDepth, workDepthWhole } from '../../../api/calc/facts/decision-depth.ts';
import { lotInquiries, pricedInquiries, USUAL_INQUIRY_COSTS } from '../../../api/calc/facts/inquiries.ts';
import type { DecisionFacts } from '../../../api/calc/facts/records.ts';
import { assumptions } from '../../../api/schemas/decision.ts';
import { inventedFacts } from './invented-lot.ts';

const plain = assumptions.parse({ drawCount: 2000 });

function worked(facts: DecisionFacts, massKg = 400) {
  const question = lotQuestion(facts, plain, massKg);
  const drawn = drawDecision(question.input);
  return { question, drawn, decision: decideDrawn(drawn) };
}

describe('what lies behind a decision', () => {
  const { question, drawn, decision } = worked(inventedFacts());

  it('comes in the order in which the page shows it, and says how far it is', () => {
    const seen: string[] = [];
    let before = 0;
    const work = workDepth(question, drawn, decision);
    for (let step = work.next(); ; step = work.next()) {
      const { doneFrac, ...parts } = step.value;
      for (const [name, part] of Object.entries(parts))
        if (part !== null && !seen.includes(name)) seen.push(name);
      expect(doneFrac).toBeGreaterThanOrEqual(before);
      before = doneFrac;
      if (step.done === true) break;
    }
    expect(before).toBe(1);
    expect(seen).toEqual(['information', 'between', 'alone', 'drivers']);
  });

  const depth = workDepthWhole(question, drawn, decision);
  const [best, next] = decision.options;

  it('is about the two best', () => {
    expect(depth.between).toMatchObject({ first: best!.name, second: next!.name });
    expect(depth.alone).toMatchObject({ first: best!.name, pays: true });
    expect(depth.drivers).toMatchObject({ first: best!.name, second: next!.name });
  });

  it('puts what turns the answer nearest first, and what never turns it last', () => {
    const distances = depth.between!.breakEvens.map(({ crossings, today, low, high }) =>
      crossings[0] === undefined ? Infinity : Math.abs(crossings[0] - today) / (high - low),
    );
    expect(distances.length).toBeGreaterThan(15);
    expect(distances).toEqual(distances.toSorted((a, b) => a - b));
    expect(distances[0]).toBeLessThan(0.1);
    expect(distances.at(-1)).toBe(Infinity);
  });

  it('is worth no more to know in part than to know in whole', () => {
    const { perfect, inquiries } = depth.information!;
    expect(perfect).toBeCloseTo(best!.expectedRegret, 3);
    for (const { value } of inquiries) expect(value).toBeLessThanOrEqual(1.05 * perfect);
  });

  it('stands with a single option, and with none', () => {
    const alone = worked(inventedFacts({ treatments: [], terms: inventedFacts().terms.slice(0, 1) }));
    const single = workDepthWhole(alone.question, alone.drawn, alone.decision);
    expect(single.between).toMatchObject({ second: null, breakEvens: [] });
    expect(single.alone!.breakEvens.length).toBeGreaterThan(5);
    expect(single.drivers!.drivers[0]!.shareFrac).toBeGreaterThan(0.2);
    const nothing = worked(inventedFacts({ terms: [] }));
    expect(isBlocked({ decision: nothing.decision, findings: nothing.question.findings })).toBe(true);
    expect(workDepthWhole(nothing.question, nothing.drawn, nothing.decision)).toEqual({
      doneFrac: 1,
      information: null,
      between: null,
      alone: null,
      drivers: null,
    });
  });

  it('gives the same decision as asking for it alone', () => {
    expect(decision).toEqual(decideLot(inventedFacts(), plain, 400).decision);
  });
});

describe('what could be found out', () => {
  it('is a first test of what was not tried, a roast test where it roasts, an assay and the price', () => {
    const { question, decision } = worked(inventedFacts());
    const found = lotInquiries(question, decision.options);
    expect(found.map(({ costOf, inquiry }) => [inquiry.id, inquiry.name, costOf])).toEqual([
      ['test-smelt/raw', 'A first test smelt by “Smelt raw”', 'testSmelt'],
      ['test-smelt/roast', 'A roast test and first test smelt by “Roast and smelt”', 'roastTest'],
      ['lab-assay', 'A head assay by a laboratory', 'labAssay'],
      ['price', 'Knowing the metal prices before deciding (fixed, or waited for)', 'fixedPrice'],
    ]);
    const [raw] = found;
    const grade = question.evidence.inference.summary.Au.gradeGpt!.mean;
    // No test of this lot yet: 2 % of what is expected to be recovered.
    expect(raw!.inquiry.kind === 'test-smelt' && raw!.inquiry.uGpt.Au).toBeCloseTo(0.02 * grade * 0.8, -1);
  });

  it('is not valued where nothing is known of the lot', () => {
    const unknown = inventedFacts();
    const { question, decision } = worked({ ...unknown, lot: { ...unknown.lot, labAssays: [] } });
    expect(lotInquiries(question, decision.options)).toEqual([]);
  });

  it('is ranked by what is left after its cost, at the costs typed', () => {
    const { question, drawn, decision } = worked(inventedFacts());
    const { inquiries } = workDepthWhole(question, drawn, decision).information!;
    const priced = pricedInquiries(
      inquiries,
      { ...USUAL_INQUIRY_COSTS, fixedPrice: 1e6 },
      { currency: 'USD' },
    );
    expect(priced.map(({ netGain }) => netGain)).toEqual(
      priced.map(({ value, cost }) => value - cost).toSorted((a, b) => b - a),
    );
    const dear = priced.at(-1)!;
    expect(dear).toMatchObject({ id: 'price', cost: 1e6 });
    expect(dear.sentence).toMatch(/costs 1,000,000 USD: not worth it for this lot alone\.$/);
    const free = pricedInquiries(inquiries, USUAL_INQUIRY_COSTS, { currency: 'USD' }).find(
      ({ id }) => id === 'price',
    )!;
    expect(free.value).toBe(dear.value);
    expect(free.sentence).toMatch(/is worth about [\d,]+ USD for this lot\.$/);
  });
});
