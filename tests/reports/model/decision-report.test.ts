import { describe, expect, it } from 'vitest';
import { decideDrawn } from '../../../api/calc/economics/decide.ts';
import { drawDecision } from '../../../api/calc/economics/simulate.ts';
import { lotQuestion } from '../../../api/calc/facts/decide-lot.ts';
import { workDepthWhole } from '../../../api/calc/facts/decision-depth.ts';
import { USUAL_INQUIRY_COSTS } from '../../../api/calc/facts/inquiries.ts';
import { assumptions } from '../../../api/schemas/decision.ts';
import { decisionReport } from '../../../reports/model/decision-report.ts';
import type { DecisionReportInput } from '../../../reports/model/decision-input.ts';
import type { Report, TableBlock } from '../../../reports/model/report.ts';
import { paintReport } from '../../../reports/pdf/paint-report.ts';
import { inventedFacts } from '../../calc/facts/invented-lot.ts';
import { checkSound, infoOf, pageTexts, pdfToolsMissing } from '../pdf-tools.ts';

const plain = assumptions.parse({ drawCount: 2000 });

function recorded(parts: Partial<DecisionReportInput> = {}): DecisionReportInput {
  const facts = inventedFacts();
  const question = lotQuestion(facts, plain, 400);
  const drawn = drawDecision(question.input);
  const decision = decideDrawn(drawn);
  const { summary, findings } = question.evidence.inference;
  return {
    millName: 'Invented mill',
    lotCode: 'T-1',
    decidedOn: '2026-06-05',
    dryMassKg: '400',
    currency: 'USD',
    chosenId: decision.options[0]!.id,
    reason: 'We can do it ourselves.',
    decision,
    findings: [...question.findings, ...findings],
    summary,
    testSmelts: 0,
    labAssays: 2,
    prices: question.input.prices,
    assumptions: plain,
    depth: workDepthWhole(question, drawn, decision),
    inquiryCosts: USUAL_INQUIRY_COSTS,
    outcomes: [],
    units: { massUnit: 'kg', metalUnit: 'ozt', gradeUnit: 'g/t' },
    isDemo: true,
    ...parts,
  };
}

const textsOf = (report: Report): string[] =>
  report.blocks.flatMap((block) => ('text' in block ? [block.text] : []));
const tableOf = (report: Report, caption: RegExp): TableBlock | undefined =>
  report.blocks.find((block): block is TableBlock => block.kind === 'table' && caption.test(block.caption));

describe('a decision as a report', () => {
  const input = recorded();
  const report = decisionReport(input);

  it('says first what was decided, then why', () => {
    const [lead, reason, expected] = textsOf(report);
    expect(lead).toBe(
      `On 5 Jun 2026 it was decided to work 400 kg dry of lot T-1 this way: Roast and smelt. ${input.decision.sentence}`,
    );
    expect(reason).toBe('Reason given: We can do it ourselves.');
    expect(expected).toMatch(/^Roast and smelt was expected to bring [\d,]+ USD after all costs \(8 in 10: /);
  });

  it('has every option, the chosen one marked, in the order of the decision', () => {
    const rows = tableOf(report, /^Options/)!.rows.map(({ cells }) => cells.name);
    expect(rows).toEqual(
      input.decision.options.map(({ name }, place) => (place === 0 ? `${name} (chosen)` : name)),
    );
  });

  it('says what would turn it, the nearest first, and at which gold price', () => {
    const turns = tableOf(report, /^Where “/)!.rows;
    const nearest = input.depth.between!.breakEvens[0]!;
    expect(turns[0]!.cells.what!.toLowerCase()).toBe(nearest.label.toLowerCase());
    expect(textsOf(report).join(' ')).toContain(
      input.depth.between!.breakEvens.find(({ id }) => id === 'price/Au')!.sentence,
    );
  });

  it('says so when another than the first was chosen, or none', () => {
    const other = decisionReport(recorded({ chosenId: input.decision.options[2]!.id }));
    expect(textsOf(other)[0]).toMatch(
      /It was expected to bring about [\d,]+ USD less than Roast and smelt, which came first\./,
    );
    const [left, ...rest] = textsOf(decisionReport(recorded({ chosenId: null })));
    expect(left).toContain('it was decided to leave 400 kg dry of lot T-1 as it is for now.');
    expect(rest.join(' ')).not.toContain('was expected to bring');
    expect(rest.join(' ')).not.toContain('molten');
  });

  it('says what was assumed instead of what the records say', () => {
    const assumed = assumptions.parse({ goldPricePerOzt: 2000.5, fuelPriceFactor: 1.25, wagePerHour: 30 });
    const facts = decisionReport(recorded({ assumptions: assumed })).blocks.find(
      ({ kind }) => kind === 'facts',
    );
    expect(JSON.stringify(facts)).toContain(
      'gold at 2,000.5 USD/ozt; a wage of 30 USD/h; fuel at 125.0 % of its price',
    );
  });

  it('stands where nothing lies behind the decision', () => {
    const bare = recorded({
      depth: { doneFrac: 1, information: null, between: null, alone: null, drivers: null },
    });
    expect(decisionReport(bare).blocks.filter(({ kind }) => kind === 'table')).toHaveLength(1);
  });

  it('counts the remarks that there is no room for', () => {
    const many = Array.from({ length: 5 }, (_, n) => ({
      code: 'x',
      level: n === 4 ? ('warning' as const) : ('note' as const),
      path: '',
      sentence: `Remark ${n}.`,
    }));
    const texts = textsOf(decisionReport(recorded({ findings: many }))).join(' ');
    expect(texts).toContain('Remark 4. Remark 0.');
    expect(texts).not.toContain('Remark 1.');
    expect(texts).toMatch(/\d more remarks stand with the record of this decision\./);
  });
});

describe.skipIf(pdfToolsMissing())('a decision on paper', () => {
  it.each(['A4', 'Letter'] as const)('is two sound pages of %s', async (page) => {
    const long = 'A reason that takes its time, because whoever reads it years later was not there. '.repeat(
      3,
    );
    const report = decisionReport(
      recorded({
        reason: long,
        outcomes: [{ batchCode: 'B-01', sentence: 'It brought 6,620 USD, within the range forecast.' }],
      }),
    );
    const bytes = await paintReport({ report, page, createdAt: new Date('2026-06-05T12:00:00Z') });
    checkSound(bytes);
    expect(infoOf(bytes).Pages).toBe('2');
    const text = pageTexts(bytes).join(' ').replaceAll(/\s+/g, ' ');
    for (const said of ['Decision about a lot', 'What would have turned it', 'made up', 'What came of it'])
      expect(text).toContain(said);
  });
});
