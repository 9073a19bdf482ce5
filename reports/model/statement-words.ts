import type { SettlementSection } from '../../api/calc/settlement/statement.ts';
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

/** Headings of the sections, in the order in which they print. */
export const SECTION_WORDS: Record<SettlementSection, string> = {
  weights: 'Weights',
  assays: 'Assays',
  prices: 'Prices',
  payable: 'Payable metal',
  charges: 'Charges',
  penalties: 'Penalties',
  credits: 'Credits',
  royalties: 'Royalties and taxes',
  previous: 'Earlier statements',
  total: 'Total',
};

export const SECTIONS = Object.keys(SECTION_WORDS) as SettlementSection[];

/** The first sentence: who owes whom how much, on which statement. */
export function owedSentence(input: StatementReportInput): string {
  const { settlement, statement, seller, buyer, parcelName } = input;
  const total = new Dec(settlement.total);
  const on = `on the ${STAGE_WORDS[statement.stage]} statement ${statement.number} for ${parcelName}`;
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
