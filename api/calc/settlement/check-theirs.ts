import type { Finding } from '../finding.ts';
import { Dec, grouped, sumOf } from '../money.ts';
import type { Settlement, SettlementLine } from './statement.ts';
import type { TheirLine } from './their-lines.ts';

/** What is doubtful in what was entered of the other party's statement, before it is held against ours. */
export function checkTheirs(
  ours: Settlement,
  theirs: readonly TheirLine[],
  theirTotal: string,
  together: ReadonlyMap<string, SettlementLine[]>,
): Finding[] {
  const findings: Finding[] = [];
  const byId = new Map(ours.lines.map((line) => [line.id, line]));
  const money = (amount: string) => `${grouped(amount)} ${ours.currency}`;
  theirs.forEach((line, index) => {
    const path = `/theirs/${index}`;
    const our = line.id === null ? undefined : byId.get(line.id);
    if (our === undefined) {
      findings.push({
        code: 'line-not-on-ours',
        level: 'warning',
        path,
        sentence: `“${line.label}”${line.amount === null ? '' : `, ${money(line.amount)},`} answers to no line of our settlement.`,
      });
    } else if (hasOtherSign(line.amount, our.amount)) {
      findings.push({
        code: 'sign-other-than-ours',
        level: 'warning',
        path,
        sentence: `“${our.label}” is entered as ${money(line.amount ?? '')}, ours is ${money(our.amount ?? '')}: a deduction takes a minus sign.`,
      });
    }
    if (line.amount === null && theirs.findIndex((one) => one.id === line.id) < index && line.id !== null) {
      findings.push({
        code: 'figure-given-twice',
        level: 'warning',
        path,
        sentence: `“${line.label}” is entered twice; the first figure is held against ours.`,
      });
    }
  });
  for (const [id, lines] of together) {
    const label = theirs.find((line) => line.id === id)?.label ?? '';
    findings.push({
      code: 'taken-together',
      level: 'note',
      path: '',
      sentence: `Their “${label}” is to the cent our ${namesOf(lines)} together.`,
    });
  }
  const sum = sumOf(theirs.map((line) => line.amount ?? new Dec(0)));
  if (theirs.some((line) => line.amount !== null) && !sum.eq(theirTotal)) {
    findings.push({
      code: 'their-lines-do-not-add-up',
      level: 'warning',
      path: '/theirTotal',
      sentence: `The amounts entered from their statement add up to ${money(sum.toFixed(ours.moneyDecimals))}, their total is ${money(theirTotal)}; a line is missing or mistyped, or they added wrongly.`,
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

function hasOtherSign(theirs: string | null, ours: string | null): boolean {
  if (theirs === null || ours === null) return false;
  return new Dec(theirs).times(ours).isNegative() && !new Dec(theirs).isZero() && !new Dec(ours).isZero();
}

/** The labels of lines as a sentence lists them: `Arsenic, Antimony and Zinc`. */
export function namesOf(lines: readonly { label: string }[]): string {
  const names = lines.map(({ label }) => label);
  return names.length < 2 ? names.join('') : `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`;
}
