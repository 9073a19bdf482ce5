import { Dec, sumOf, type DecimalNumber } from '../money.ts';
import { roundedText } from '../rounding.ts';
import type { Finding } from '../finding.ts';
import { figureCauses } from './cause-figures.ts';
import { solvedCauses } from './cause-solved.ts';
import { termCauses } from './cause-terms.ts';
import type { Hypothesis, TheirFigures } from './hypothesis.ts';
import type { SettlementInput } from './input.ts';
import { settle } from './settle.ts';
import type { Settlement } from './statement.ts';

/** One line of the other party's statement, matched by the user to a line of ours. */
export interface TheirLine {
  /** Id of the line of ours that it answers to; null where we have none. */
  id: string | null;
  label: string;
  /** Signed as on our statement: deductions negative; null where the line is not money. */
  amount: string | null;
  /** The mass, grade or price where the line is not money. */
  result: string | null;
}

export interface ComparedLine {
  id: string | null;
  label: string;
  ours: string | null;
  theirs: string | null;
  /** Theirs less ours, money or the unit of the line; null where one of them is missing. */
  difference: string | null;
  /** Of the money lines, what is compared is the amount. */
  money: boolean;
  /** Index of the cause that brings our line to theirs; null where equal or not explained. */
  cause: number | null;
}

export interface LikelyCause {
  code: string;
  /** What they would have done differently, with both values. */
  sentence: string;
  /** Lines that this cause, with those before it, brings to their figure exactly. */
  lines: string[];
  /** Change of our total by this cause on top of those before it. */
  moneyEffect: string;
  /** Other single changes that explain the same lines as exactly. */
  alternatives: string[];
}

export interface StatementComparison {
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
export function compareStatement({
  input,
  theirs,
  theirTotal,
}: {
  input: SettlementInput;
  theirs: readonly TheirLine[];
  theirTotal: string;
}): StatementComparison {
  const ours = settle(input);
  const findings = checkTheirs(ours, theirs, theirTotal);
  const figures = theirFigures(theirs, theirTotal);
  const causes: LikelyCause[] = [];
  const causeOf = new Map<string, number>();
  let at = input;
  let settlement = ours;
  const complete = !ours.findings.some((finding) => finding.level === 'blocker');
  while (complete && causes.length < MOST_CAUSES) {
    const open = differing(settlement, figures);
    if (open.size === 0) break;
    const best = bestCause(at, settlement, figures, open);
    if (best === null) break;
    for (const id of best.lines) if (!causeOf.has(id)) causeOf.set(id, causes.length);
    const effect = new Dec(best.settlement.total).minus(settlement.total);
    causes.push({
      code: best.code,
      sentence: best.sentence,
      lines: best.lines,
      moneyEffect: roundedText(effect, input.terms.rounding.money),
      alternatives: best.alternatives,
    });
    at = best.input;
    settlement = best.settlement;
  }
  const moneyText = (value: DecimalNumber) => roundedText(value, input.terms.rounding.money);
  return {
    lines: compared(ours, theirs, causeOf),
    causes,
    ourTotal: ours.total,
    theirTotal,
    difference: moneyText(new Dec(theirTotal).minus(ours.total)),
    unexplained: moneyText(new Dec(theirTotal).minus(settlement.total)),
    findings,
  };
}

function theirFigures(theirs: readonly TheirLine[], theirTotal: string): TheirFigures {
  const figures: TheirFigures = new Map();
  for (const { id, amount, result } of theirs) if (id !== null) figures.set(id, { amount, result });
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

interface Found extends Hypothesis {
  settlement: Settlement;
  lines: string[];
  alternatives: string[];
}

function bestCause(
  input: SettlementInput,
  settlement: Settlement,
  figures: TheirFigures,
  open: ReadonlySet<string>,
): Found | null {
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
  for (const hypothesis of figureCauses(input, settlement, figures)) consider(hypothesis);
  for (const hypothesis of termCauses(input)) consider(hypothesis);
  for (const hypothesis of solvedCauses(input, figures, open)) consider(hypothesis);
  return best;
}

function compared(
  ours: Settlement,
  theirs: readonly TheirLine[],
  causeOf: ReadonlyMap<string, number>,
): ComparedLine[] {
  const byId = new Map(ours.lines.map((line) => [line.id, line]));
  const rows = theirs.map((their): ComparedLine => {
    const line = their.id === null ? undefined : byId.get(their.id);
    const money = their.amount !== null;
    const our = (money ? line?.amount : line?.result?.value) ?? null;
    const their_ = money ? their.amount : their.result;
    const difference = our === null || their_ === null ? null : new Dec(their_).minus(our).toFixed();
    return {
      id: their.id,
      label: line?.label ?? their.label,
      ours: our,
      theirs: their_,
      difference,
      money,
      cause: their.id === null ? null : (causeOf.get(their.id) ?? null),
    };
  });
  const matched = new Set(theirs.map((their) => their.id));
  const onlyOurs = ours.lines
    .filter((line) => line.amount !== null && !new Dec(line.amount).isZero() && !matched.has(line.id))
    .map((line): ComparedLine => ({
      id: line.id,
      label: line.label,
      ours: line.amount,
      theirs: null,
      difference: null,
      money: true,
      cause: null,
    }));
  return [...rows, ...onlyOurs];
}

function checkTheirs(ours: Settlement, theirs: readonly TheirLine[], theirTotal: string): Finding[] {
  const findings: Finding[] = [];
  const known = new Set(ours.lines.map((line) => line.id));
  theirs.forEach((line, index) => {
    if (line.id === null || !known.has(line.id)) {
      findings.push({
        code: 'line-not-on-ours',
        level: 'warning',
        path: `/theirs/${index}`,
        sentence: `“${line.label}”${line.amount === null ? '' : `, ${line.amount} ${ours.currency},`} answers to no line of our settlement.`,
      });
    }
  });
  const sum = sumOf(theirs.map((line) => line.amount ?? new Dec(0)));
  const everyAmount = theirs.some((line) => line.amount !== null);
  if (everyAmount && !sum.eq(theirTotal)) {
    findings.push({
      code: 'their-lines-do-not-add-up',
      level: 'warning',
      path: '/theirTotal',
      sentence: `The amounts entered from their statement add up to ${sum.toFixed(ours.moneyDecimals)} ${ours.currency}, their total is ${theirTotal}; a line is missing or mistyped, or they added wrongly.`,
    });
  }
  if (ours.findings.some((finding) => finding.level === 'blocker')) {
    findings.push({
      code: 'ours-not-complete',
      level: 'blocker',
      path: '',
      sentence: 'Our own settlement is not complete, so theirs cannot be held against it yet.',
    });
  }
  return findings;
}
