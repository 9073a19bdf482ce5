import type { BuyerReportInput, ComparedStatements } from './buyer-input.ts';
import { figureTable, moneyTable, reworkedTable } from './buyer-tables.ts';
import { causeSentence, differenceSentence, explainedSentence, questions } from './buyer-words.ts';
import { DEMO_NOTICE } from './demo-notice.ts';
import { formatDate } from './format.ts';
import { findingNotices } from './notices.ts';
import type { Block, Report } from './report.ts';
import { STAGE_WORDS } from './statement-words.ts';

/**
 * The other party's statement held against ours as a report: how they stand to each other in one sentence,
 * every line with its difference, what explains it with the lines worked again, and what to ask.
 */
export function buyerReport(input: BuyerReportInput): Report {
  const { partyName, theirNumber, ourNumber, ours } = input;
  const our = ourNumber ?? `draft, ${STAGE_WORDS[ours.stage]}`;
  return {
    title: 'Statements compared',
    subtitle: `${theirNumber} of ${partyName} · our ${our} · ${ours.parcelName} · ${input.millName}`,
    runningHead: `Their ${theirNumber} against our ${our}`,
    demoNotice: input.isDemo ? DEMO_NOTICE : null,
    language: 'en',
    blocks: [
      ...standingBlocks(input),
      factsBlock(input),
      { kind: 'heading', text: 'Line by line' },
      moneyTable(input.comparison),
      ...filled(figureTable(input.comparison)),
      ...causeBlocks(input),
      ...questionBlocks(input),
      {
        kind: 'paragraph',
        text: 'A cause is named because our statement, worked again with it, gives their figures to the last digit. Another reason can give the same figures: ask before you claim. The figures rest on what was entered from their statement, and take the place of no licensed assayer, weigher or lawyer.',
      },
    ],
  };
}

/** How the two stand to each other, and what is doubtful about it. */
export function standingBlocks(compared: ComparedStatements): Block[] {
  const explained = explainedSentence(compared);
  return [
    { kind: 'lead', text: differenceSentence(compared) },
    ...(explained === null ? [] : [{ kind: 'paragraph' as const, text: explained }]),
    ...findingNotices(compared.comparison.findings),
  ];
}

/** What explains the difference, each cause with its lines worked again. */
export function causeBlocks(compared: ComparedStatements): Block[] {
  const { causes, moneyDecimals } = compared.comparison;
  if (causes.length === 0) return [];
  return [
    { kind: 'heading', text: 'What explains it' },
    ...causes.flatMap((cause, index): Block[] => [
      { kind: 'paragraph', text: `Cause ${index + 1}. ${causeSentence(cause, compared)}` },
      reworkedTable(cause, index + 1, moneyDecimals),
      ...alternativeBlocks(cause.alternatives),
    ]),
  ];
}

const MOST_ALTERNATIVES = 3;

/** What would give the same figures; of many the first, which are the plainest. */
function alternativeBlocks(alternatives: readonly string[]): Block[] {
  if (alternatives.length === 0) return [];
  const more = alternatives.length - MOST_ALTERNATIVES;
  const rest = more > 0 ? ` And ${more} other ${more === 1 ? 'reading' : 'readings'} of the contract.` : '';
  const text = `As exact would be: ${alternatives.slice(0, MOST_ALTERNATIVES).join(' ')}${rest}`;
  return [{ kind: 'paragraph', text }];
}

/** What to ask, to be ticked off. */
export function questionBlocks(compared: ComparedStatements): Block[] {
  const steps = questions(compared);
  if (steps.length === 0) return [];
  return [
    { kind: 'heading', text: `What to ask ${compared.partyName}` },
    { kind: 'steps', steps },
  ];
}

function factsBlock({ ours, theirs, partyName, theirNumber, ourNumber }: BuyerReportInput): Block {
  const issued = ours.issuedOn === null ? 'not issued' : `issued on ${formatDate(ours.issuedOn)}`;
  return {
    kind: 'facts',
    facts: [
      { label: 'Their statement', value: `${theirNumber} of ${formatDate(theirs.datedOn)}` },
      { label: 'Their name', value: partyName },
      {
        label: 'Our statement',
        value: `${ourNumber ?? 'Draft'}, ${STAGE_WORDS[ours.stage]}, ${issued}`,
      },
      { label: 'Parcel', value: ours.parcelName },
      { label: 'Terms', value: ours.termsName },
      ...(theirs.remarks === '' ? [] : [{ label: 'Remarks', value: theirs.remarks }]),
    ],
  };
}

function filled(table: Extract<Block, { kind: 'table' }>): Block[] {
  return table.rows.length === 0 ? [] : [table];
}
