import { Dec } from '../../api/calc/money.ts';
import { DEMO_NOTICE } from './demo-notice.ts';
import { formatDate, formatMoney } from './format.ts';
import { findingNotices, notice } from './notices.ts';
import type { Block, Report } from './report.ts';
import type { Party, StatementReportInput } from './statement-input.ts';
import {
  accountTable,
  changeTable,
  footingError,
  measuredTable,
  quotationTable,
} from './statement-tables.ts';
import { text } from './table-parts.ts';
import {
  EVENT_DAY_WORDS,
  MATERIAL_WORDS,
  owedSentence,
  STAGE_WORDS,
  stageSentence,
} from './statement-words.ts';

/**
 * A settlement statement as a report: what is owed in one sentence, the
 * parties and the parcel, every line with its working, the rounding, the terms,
 * what is still provisional, places to sign, and the quotations as an annex.
 * A statement whose lines do not add up to its total says so in a caution.
 */
export function statementReport(input: StatementReportInput): Report {
  const { settlement, statement, seller, buyer } = input;
  const stage = STAGE_WORDS[statement.stage];
  const numbered = statement.number === null ? stage : `${statement.number}, ${stage}`;
  const draft = statement.isDraft ? ', draft, not issued' : '';
  return {
    title: 'Settlement statement',
    subtitle: `${numbered} · ${input.parcelName} · ${seller.name} to ${buyer.name}`,
    runningHead: `Statement${statement.number === null ? ',' : ''} ${numbered}${draft}`,
    demoNotice: input.isDemo ? DEMO_NOTICE : null,
    language: 'en',
    blocks: [
      { kind: 'lead', text: owedSentence(input) },
      ...notices(input),
      factsBlock(input),
      ...filled(measuredTable(settlement)),
      accountTable(settlement),
      ...changeBlocks(input),
      ...provisionalBlocks(input),
      ...termsBlocks(input),
      ...roundingBlocks(settlement.roundingRules),
      { kind: 'heading', text: 'Agreed' },
      {
        kind: 'paragraph',
        text: 'Every figure in the lines can be worked again from the figures printed on this statement. It rests on the weights, assays, quotations and terms shown here and takes the place of no licensed assayer, weigher or tax adviser.',
      },
      { kind: 'signatures', parties: [`${seller.name} (seller)`, `${buyer.name} (buyer)`] },
      ...annexBlocks(input),
    ],
  };
}

function notices({ settlement, statement }: StatementReportInput): Block[] {
  const wrong = footingSentence(settlement);
  const draft = 'Draft: this statement has not been issued and binds nobody. It is for checking only.';
  return [
    ...(statement.isDraft ? [notice('note', draft)] : []),
    ...(wrong === null ? [] : [notice('caution', wrong)]),
    ...findingNotices(settlement.findings),
  ];
}

function footingSentence(settlement: StatementReportInput['settlement']): string | null {
  const error = footingError(settlement);
  if (error === null) return null;
  const difference = new Dec(error);
  const money = formatMoney(difference.abs().toFixed(), settlement.moneyDecimals, settlement.currency);
  const side = difference.isNegative() ? 'less' : 'more';
  return `The lines add up to ${money} ${side} than the total. Do not use this statement until the difference is found.`;
}

function factsBlock({ settlement, statement, ...input }: StatementReportInput): Block {
  return {
    kind: 'facts',
    facts: [
      { label: 'Seller', value: partyText(input.seller) },
      { label: 'Buyer', value: partyText(input.buyer) },
      {
        label: 'Statement',
        value: `${statement.number ?? 'No number yet'}, ${STAGE_WORDS[statement.stage]}`,
      },
      {
        label: statement.isDraft ? 'Drawn up on' : 'Issued on',
        value:
          statement.issuedOn === null || statement.issuedOn === ''
            ? 'No date yet'
            : formatDate(statement.issuedOn),
      },
      { label: MATERIAL_WORDS[input.material], value: input.parcelName },
      { label: 'Terms', value: input.termsName },
      { label: 'Currency', value: settlement.currency },
      { label: 'Follows statement', value: statement.supersedes ?? 'None; this is the first for the parcel' },
      ...dayFacts(statement.isDraft, input),
    ],
  };
}

/** What the price periods and the payment are counted from, so that they can be counted again. */
function dayFacts(
  isDraft: boolean,
  { days, dueOn }: Pick<StatementReportInput, 'days' | 'dueOn'>,
): { label: string; value: string }[] {
  // The day of a draft is told above.
  const shown = days.filter(({ event }) => !(isDraft && event === 'statement'));
  const facts = shown.map(({ event, on }) => ({
    label: EVENT_DAY_WORDS[event],
    value: on === null ? 'Not entered yet' : formatDate(on),
  }));
  return dueOn === null ? facts : [...facts, { label: 'Payment due on', value: formatDate(dueOn) }];
}

function partyText({ name, addressLines }: Party): string {
  return [name, ...addressLines].join('\n');
}

function changeBlocks({ changeFromPrevious, settlement }: StatementReportInput): Block[] {
  return changeFromPrevious === null ? [] : [changeTable(changeFromPrevious, settlement.moneyDecimals)];
}

function provisionalBlocks({ statement, provisionalItems }: StatementReportInput): Block[] {
  return [
    {
      kind: 'heading',
      text: provisionalItems.length > 0 ? 'What is provisional' : 'Standing of this statement',
    },
    { kind: 'paragraph', text: stageSentence(statement.stage) },
    ...provisionalItems.map((text): Block => ({ kind: 'paragraph', text })),
  ];
}

function roundingBlocks(rules: string[]): Block[] {
  if (rules.length === 0) return [];
  return [
    { kind: 'heading', text: 'Rounding' },
    { kind: 'paragraph', text: rules.join(' ') },
  ];
}

/** The rounding has its own heading, from the rules that were used. */
function termsBlocks({ termsName, termsSentences, settlement }: StatementReportInput): Block[] {
  const roundingStands = settlement.roundingRules.length > 0;
  const rows = byClause(termsSentences.filter(({ clause }) => !(roundingStands && clause === 'Rounding')));
  if (rows.length === 0) return [];
  return [
    { kind: 'heading', text: 'Terms' },
    {
      kind: 'table',
      caption: termsName,
      columns: [text('clause', 'Clause', 22), text('sentence', 'What it says', 78)],
      rows: rows.map((cells) => ({ style: 'plain', cells })),
    },
  ];
}

/** Sentences of one clause that follow each other, as one. */
function byClause(sentences: StatementReportInput['termsSentences']): StatementReportInput['termsSentences'] {
  const rows: StatementReportInput['termsSentences'] = [];
  for (const { clause, sentence } of sentences) {
    const last = rows.at(-1);
    if (last?.clause === clause) last.sentence = `${last.sentence} ${sentence}`;
    else rows.push({ clause, sentence });
  }
  return rows;
}

function annexBlocks({ quotations }: StatementReportInput): Block[] {
  if (quotations.length === 0) return [];
  return [
    { kind: 'heading', text: 'Annex: price period' },
    { kind: 'paragraph', text: `${quotations.map(({ metal, basis }) => `${metal}: ${basis}`).join('; ')}.` },
    quotationTable(quotations),
  ];
}

function filled(table: Extract<Block, { kind: 'table' }>): Block[] {
  return table.rows.length === 0 ? [] : [table];
}
