import { Dec, sumOf } from '../money.ts';
import type { PrintedQuantity, Settlement, SettlementLine, SettlementSection } from './statement.ts';
import type { TheirLine } from './their-lines.ts';

export interface ComparedLine {
  id: string | null;
  label: string;
  section: SettlementSection | null;
  ours: string | null;
  theirs: string | null;
  /** Theirs less ours, money or the unit of the line; null where one of them is missing. */
  difference: string | null;
  /** The currency, or the unit of the figure. */
  unit: string;
  /** Of the money lines, what is compared is the amount. */
  money: boolean;
  /** What is multiplied on our money line, and on theirs where they print it in the same unit. */
  ourQuantity: PrintedQuantity | null;
  theirQuantity: string | null;
  /** The arithmetic of our line, as it prints; '' where we have no such line. */
  working: string;
  /** Index of the cause that brings our line to theirs; null where equal or not explained. */
  cause: number | null;
}

/** Their lines beside ours, then the money lines of ours that nothing of theirs answers to. */
export function comparedLines({
  ours,
  theirs,
  together,
  causeOf,
}: {
  ours: Settlement;
  theirs: readonly TheirLine[];
  together: ReadonlyMap<string, SettlementLine[]>;
  causeOf: ReadonlyMap<string, number>;
}): ComparedLine[] {
  const byId = new Map(ours.lines.map((line) => [line.id, line]));
  const rows = theirs.map((their): ComparedLine => {
    const line = their.id === null ? undefined : byId.get(their.id);
    const group = (their.id === null ? undefined : together.get(their.id)) ?? [];
    const money = their.amount !== null;
    const our = money
      ? group.length > 0
        ? sumOf(group.map((one) => one.amount ?? '0')).toFixed(ours.moneyDecimals)
        : (line?.amount ?? null)
      : (line?.result?.value ?? null);
    const their_ = money ? their.amount : their.result;
    return {
      id: their.id,
      label: group.length > 0 ? group.map((one) => one.label).join(' + ') : (line?.label ?? their.label),
      section: line?.section ?? null,
      ours: our,
      theirs: their_,
      difference: our === null || their_ === null ? null : new Dec(their_).minus(our).toFixed(),
      unit: money ? ours.currency : (line?.result?.unit ?? ''),
      money,
      ourQuantity: money && group.length === 0 ? (line?.quantity ?? null) : null,
      theirQuantity: their.quantity ?? null,
      working: line?.working ?? '',
      cause: their.id === null ? null : (causeOf.get(their.id) ?? null),
    };
  });
  const answered = new Set<string | null>([
    ...theirs.map(({ id }) => id),
    ...[...together.values()].flat().map(({ id }) => id),
  ]);
  const onlyOurs = ours.lines.filter(
    (line) => line.amount !== null && !new Dec(line.amount).isZero() && !answered.has(line.id),
  );
  return [
    ...rows,
    ...onlyOurs.map((line): ComparedLine => ({
      id: line.id,
      label: line.label,
      section: line.section,
      ours: line.amount,
      theirs: null,
      difference: null,
      unit: ours.currency,
      money: true,
      ourQuantity: line.quantity,
      theirQuantity: null,
      working: line.working,
      cause: null,
    })),
  ];
}
