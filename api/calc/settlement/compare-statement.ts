import { Dec, type DecimalNumber } from '../money.ts';
import { roundedText } from '../rounding.ts';
import type { Finding } from '../finding.ts';
import { figureCauses } from './cause-figures.ts';
import { solvedCauses } from './cause-solved.ts';
import { termCauses } from './cause-terms.ts';
import { checkTheirs } from './check-theirs.ts';
import { comparedLines, type ComparedLine } from './compared-lines.ts';
import type { Hypothesis, TheirFigures } from './hypothesis.ts';
import type { SettlementInput } from './input.ts';
import { settle } from './settle.ts';
import type { Settlement, SettlementLine } from './statement.ts';
import { gathered, takenTogether, type TheirLine } from './their-lines.ts';

export type { ComparedLine, TheirLine };

/** A line of ours that a cause brings to theirs, before and after it is worked again. */
export interface ReworkedLine {
  id: string;
  label: string;
  /** Money or the unit of the line. */
  unit: string;
  /** Null where the line is only on one of the two. */
  before: string | null;
  after: string | null;
}

export interface LikelyCause {
  code: string;
  /** What they would have done differently, with both values. */
  sentence: string;
  /** Lines that this cause, with those before it, brings to their figure exactly. */
  lines: string[];
  /** Those lines worked again. */
  reworked: ReworkedLine[];
  /** Change of our total by this cause on top of those before it. */
  moneyEffect: string;
  /** Our total worked again with this cause and those before it. */
  totalAfter: string;
  /** Other single changes that explain the same lines as exactly. */
  alternatives: string[];
}

export interface StatementComparison {
  currency: string;
  moneyDecimals: number;
  lines: ComparedLine[];
  causes: LikelyCause[];
  ourTotal: string;
  theirTotal: string;
  /** Theirs less ours: the sum of the causes' money effects and what is not explained. */
  difference: string;
  unexplained: string;
  findings: Finding[];
}

const MOST_CAUSES = 6;

/**
 * Holds the other party's statement against ours, line by line, and looks for what they
 * did differently by working our settlement again: with their own figures where they
 * print them, with another moisture, assay, price, quotational period, conversion factor,
 * rounding, payable form, step counting or mass basis. A cause counts only if it brings
 * at least one differing line to their figure to the last digit and disturbs none that
 * agreed. The cause that explains most lines is taken, then the search goes on from
 * there. Each cause's effect is in money, and what no cause explains is said.
 */
export function compareStatement(held: HeldStatement): StatementComparison {
  const work = comparedInSteps(held);
  let step = work.next();
  while (step.done !== true) step = work.next();
  return step.value;
}

/** Ours as it was worked out, and what the other party prints. */
export interface HeldStatement {
  input: SettlementInput;
  theirs: readonly TheirLine[];
  theirTotal: string;
}

/** The same, with a step for every settlement that is tried, so that others can have their turn in between. */
export function* comparedInSteps({
  input,
  theirs: entered,
  theirTotal,
}: HeldStatement): Generator<void, StatementComparison> {
  const ours = settle(input);
  const theirs = gathered(entered);
  const together = takenTogether(ours, theirs);
  const findings = checkTheirs(ours, entered, theirTotal, together);
  const figures = theirFigures(theirs, theirTotal, together);
  const moneyText = (value: DecimalNumber) => roundedText(value, input.terms.rounding.money);
  const causes: LikelyCause[] = [];
  const causeOf = new Map<string, number>();
  let at = input;
  let settlement = ours;
  const complete = !ours.findings.some((finding) => finding.level === 'blocker');
  while (complete && causes.length < MOST_CAUSES) {
    const open = differing(settlement, figures);
    if (open.size === 0) break;
    const best = yield* bestCause(at, settlement, figures, open);
    if (best === null) break;
    for (const id of best.lines) if (!causeOf.has(id)) causeOf.set(id, causes.length);
    causes.push({
      code: best.code,
      sentence: best.sentence,
      lines: best.lines,
      reworked: reworkedLines(best.lines, settlement, best.settlement),
      moneyEffect: moneyText(new Dec(best.settlement.total).minus(settlement.total)),
      totalAfter: best.settlement.total,
      alternatives: best.alternatives,
    });
    at = best.input;
    settlement = best.settlement;
  }
  return {
    currency: ours.currency,
    moneyDecimals: ours.moneyDecimals,
    lines: comparedLines({ ours, theirs, together, causeOf }),
    causes,
    ourTotal: ours.total,
    theirTotal,
    difference: moneyText(new Dec(theirTotal).minus(ours.total)),
    unexplained: moneyText(new Dec(theirTotal).minus(settlement.total)),
    findings,
  };
}

/** What they print by the id of our line; of lines that they take together, each counts as ours. */
function theirFigures(
  theirs: readonly TheirLine[],
  theirTotal: string,
  together: ReadonlyMap<string, SettlementLine[]>,
): TheirFigures {
  const figures: TheirFigures = new Map();
  for (const { id, amount, result } of theirs) if (id !== null) figures.set(id, { amount, result });
  for (const line of [...together.values()].flat())
    figures.set(line.id, { amount: line.amount, result: null });
  figures.set('total/total', { amount: null, result: theirTotal });
  return figures;
}

/** Ids of the lines where ours is not theirs; a line of ours that is missing differs. */
function differing(settlement: Settlement, figures: TheirFigures): Set<string> {
  const byId = new Map(settlement.lines.map((line) => [line.id, line]));
  const open = new Set<string>();
  for (const [id, { amount, result }] of figures) {
    const line = byId.get(id);
    const agrees =
      amount !== null
        ? new Dec(amount).eq(line?.amount ?? 0)
        : result === null || (line?.result != null && new Dec(result).eq(line.result.value));
    if (!agrees) open.add(id);
  }
  return open;
}

function reworkedLines(ids: readonly string[], before: Settlement, after: Settlement): ReworkedLine[] {
  return ids.flatMap((id) => {
    const [old, again] = [before, after].map(({ lines }) => lines.find((line) => line.id === id));
    const known = again ?? old;
    if (known === undefined) return [];
    const isMoney = known.amount !== null;
    const figureOf = (line: SettlementLine | undefined) =>
      (isMoney ? line?.amount : line?.result?.value) ?? null;
    const unit = isMoney ? before.currency : (known.result?.unit ?? '');
    return [{ id, label: known.label, unit, before: figureOf(old), after: figureOf(again) }];
  });
}

interface Found extends Hypothesis {
  settlement: Settlement;
  lines: string[];
  alternatives: string[];
}

function* bestCause(
  input: SettlementInput,
  settlement: Settlement,
  figures: TheirFigures,
  open: ReadonlySet<string>,
): Generator<void, Found | null> {
  let best: Found | null = null;
  const consider = (hypothesis: Hypothesis) => {
    const tried = settle(hypothesis.input);
    if (tried.findings.some((finding) => finding.level === 'blocker')) return;
    const stillOpen = differing(tried, figures);
    if ([...stillOpen].some((id) => !open.has(id))) return;
    const lines = [...open].filter((id) => !stillOpen.has(id));
    if (lines.length === 0) return;
    if (best !== null && lines.join() === best.lines.join()) best.alternatives.push(hypothesis.sentence);
    if (best !== null && lines.length <= best.lines.length) return;
    best = { ...hypothesis, settlement: tried, lines, alternatives: [] };
  };
  // Plainest first: among causes that explain the same lines the first one stands.
  for (const causes of [
    () => figureCauses(input, settlement, figures),
    () => termCauses(input),
    () => solvedCauses(input, figures, open),
  ])
    for (const hypothesis of causes()) {
      consider(hypothesis);
      yield;
    }
  return best;
}
