import type { EventName } from '../../api/calc/terms/term-units.ts';
import type { Settlement, SettlementSection } from '../../api/calc/settlement/statement.ts';
import { Dec } from '../../api/calc/money.ts';
import { formatMoney } from './format.ts';
import type { StatementReportInput, StatementStage } from './statement-input.ts';

export const STAGE_WORDS: Record<StatementStage, string> = {
  provisional: 'provisional',
  'second-provisional': 'second provisional',
  final: 'final',
  adjustment: 'adjustment',
};

export const MATERIAL_WORDS: Record<StatementReportInput['material'], string> = {
  concentrate: 'Concentrate',
  dore: 'Doré',
  'by-product': 'By-product',
};

/** The days that terms count from, in the order in which they usually come. */
export const EVENT_DAY_WORDS: Record<EventName, string> = {
  shipment: 'Shipped on',
  arrival: 'Arrived on',
  weighing: 'Weighed on',
  melting: 'Melted on',
  'assay-exchange': 'Assays exchanged on',
  'price-declaration': 'Price declared on',
  statement: 'Drawn up on',
};

/** Headings of the sections, in the order in which they print. */
export const SECTION_WORDS: Record<SettlementSection, string> = {
  weights: 'Weights',
  assays: 'Assays',
  prices: 'Prices',
  payable: 'Payable metal',
  charges: 'Charges',
  penalties: 'Penalties',
  credits: 'Credits',
  royalties: 'Royalties and production taxes',
  taxes: 'Sales and withholding taxes',
  previous: 'Net value and payments',
  total: 'Total',
};

export const SECTIONS = Object.keys(SECTION_WORDS) as SettlementSection[];

/** Whether the settlement has a total: what could not be worked out leaves it without one. */
export function isComplete(settlement: Settlement): boolean {
  return !settlement.findings.some((finding) => finding.level === 'blocker');
}

/** For example `the final statement S-0007`, or `this provisional draft`. */
function statementName({ number, stage }: StatementReportInput['statement']): string {
  return number === null
    ? `this ${STAGE_WORDS[stage]} draft`
    : `the ${STAGE_WORDS[stage]} statement ${number}`;
}

/** The first sentence: who owes whom how much, on which statement. */
export function owedSentence(input: StatementReportInput): string {
  const { settlement, statement, seller, buyer, parcelName } = input;
  if (!isComplete(settlement)) {
    return `This statement for ${parcelName} is not complete: no total is given until what is named below has been put right.`;
  }
  const total = new Dec(settlement.total);
  const on = `on ${statementName(statement)} for ${parcelName}`;
  if (total.isZero()) return `Nothing is owed either way ${on}.`;
  const money = formatMoney(total.abs().toFixed(), settlement.moneyDecimals, settlement.currency);
  const [debtor, creditor] = total.isNegative() ? [seller.name, buyer.name] : [buyer.name, seller.name];
  return `${debtor} owes ${creditor} ${money} ${on}.`;
}

/** What kind of statement this is and what may follow it. */
export function stageSentence(stage: StatementStage): string {
  switch (stage) {
    case 'provisional':
    case 'second-provisional':
      return 'This statement is provisional: it stands on the weights, assays and prices known so far. A later statement will name it, take it into account and put right what has changed.';
    case 'final':
      return 'This statement is final: weights, assays and prices are settled. Should an error be found, it is not altered; an adjustment follows that names it.';
    case 'adjustment':
      return 'This statement adjusts an earlier one, which it names and which stays as it was issued.';
  }
}
