import type { Kysely } from 'kysely';
import { comparedInSteps, type StatementComparison } from './calc/settlement/compare-statement.ts';
import type { SettlementLine } from './calc/settlement/statement.ts';
import { workedInSteps } from './in-steps.ts';
import { Problem, type FieldError } from './problem.ts';
import type { BuyerLine, BuyerStatement, NewBuyerStatement } from './schemas/buyer-statement.ts';
import { millSells } from './statement-document.ts';
import { findMill } from '../db/queries/mill.ts';
import { findStatement, type KeptStatement } from '../db/queries/statements.ts';
import { buyerReport } from '../reports/model/buyer-report.ts';
import type { Report } from '../reports/model/report.ts';
import type { Database } from '../db/schema.ts';

type Entered = Pick<NewBuyerStatement, 'lines' | 'total'>;

/** Holds lines of the other party against a statement of ours, as it was worked out when it was kept. */
export async function holdAgainst(
  ours: KeptStatement,
  { lines, total }: Entered,
): Promise<StatementComparison> {
  const work = comparedInSteps({
    input: ours.kept.settlementInput,
    theirs: lines.map(({ label, lineId, quantity, amount }) => ({
      id: lineId,
      label,
      amount,
      result: amount === null ? quantity : null,
      quantity: amount === null ? null : quantity,
    })),
    theirTotal: total,
  });
  return workedInSteps(work);
}

/** Refuses lines that cannot be held against this statement of ours: each must be of the kind of the line that it answers to. */
export function requireComparable(ours: KeptStatement, { lines, total }: Entered): void {
  const { moneyDecimals, currency } = ours.settlement;
  const byId = new Map(ours.settlement.lines.map((line) => [line.id, line]));
  const errors: FieldError[] = [];
  const refuse = (pointer: string, detail: string): number => errors.push({ pointer, detail });
  const isTooFine = (amount: string): boolean => (amount.split('.')[1]?.length ?? 0) > moneyDecimals;
  const decimals = `must have at most ${moneyDecimals} decimals, as money in ${currency} has on our statement`;
  lines.forEach((line, index) => {
    const { label, lineId, amount } = line;
    const our = lineId === null ? undefined : byId.get(lineId);
    if (lineId !== null && our === undefined)
      refuse(`/lines/${index}/lineId`, `“${label}” must answer to a line of our statement, or to none.`);
    const fault = our === undefined ? null : kindFault(line, our);
    if (fault !== null) refuse(`/lines/${index}/${fault.field}`, fault.detail);
    if (amount !== null && isTooFine(amount))
      refuse(`/lines/${index}/amount`, `The amount of “${label}”, ${amount}, ${decimals}.`);
    const first = lines.findIndex((one) => one.lineId === lineId && one.amount === null);
    if (our !== undefined && amount === null && first < index)
      refuse(`/lines/${index}/lineId`, `“${our.label}” is answered by two lines; leave one figure.`);
  });
  if (isTooFine(total)) refuse('/total', `Their total, ${total}, ${decimals}.`);
  if (errors.length > 0)
    throw new Problem('validation', 'Some of their lines cannot be held against ours.', { errors });
}

function kindFault(
  { label, amount }: BuyerLine,
  our: SettlementLine,
): { field: 'amount' | 'lineId'; detail: string } | null {
  if (our.amount !== null && amount === null)
    return {
      field: 'amount',
      detail: `“${label}” needs an amount: “${our.label}” is money on our statement.`,
    };
  if (our.amount === null && amount !== null)
    return {
      field: 'lineId',
      detail: `“${label}” is money, but “${our.label}” on our statement is ${our.result?.unit === undefined ? 'not' : `in ${our.result.unit}`}.`,
    };
  return null;
}

/** The other party's statement held against ours, as a report: the same for the page and the print. */
export async function buyerDocument(db: Kysely<Database>, theirs: BuyerStatement): Promise<Report> {
  const ours = await findStatement(db, theirs.statementId);
  const mill = await findMill(db);
  return buyerReport({
    comparison: await holdAgainst(ours, theirs),
    partyName: ours.counterpartyName,
    theirNumber: theirs.number,
    ourNumber: ours.number,
    weAreOwed: millSells(ours),
    ours: {
      stage: ours.stage,
      issuedOn: ours.issuedOn,
      parcelName: `${ours.productCode} of batch ${ours.batchCode}`,
      termsName: ours.termsName,
    },
    theirs: { datedOn: theirs.datedOn, remarks: theirs.remarks },
    millName: mill.name,
    isDemo: mill.isDemo,
  });
}
