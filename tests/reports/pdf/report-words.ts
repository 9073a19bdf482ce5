import type { Block, Report, TableBlock, TableRow } from '../../../reports/model/report.ts';
import type { StatementReportInput } from '../../../reports/model/statement-input.ts';
import { line, settlementOf, statementInput } from '../fixtures.ts';

/** Everything that a report says, in the order in which it is read. */
export function wordsOf(report: Report): string[] {
  return [report.title, report.subtitle, ...report.blocks.flatMap(blockWords)];
}

function blockWords(block: Block): string[] {
  switch (block.kind) {
    case 'facts':
      return block.facts.flatMap(({ label, value }) => [label, value]);
    case 'table':
      return [block.caption, ...block.columns.map(({ label }) => label), ...rowWords(block)];
    case 'chart':
      return [block.scene.title];
    case 'steps':
      return block.steps;
    case 'page':
      return [];
    case 'signatures':
      return block.parties.map((party) => `For ${party}`);
    default:
      return [block.text];
  }
}

function rowWords(table: TableBlock): string[] {
  return table.rows.flatMap((row) => [
    ...table.columns.map(({ key }) => row.cells[key] ?? ''),
    row.detail ?? '',
  ]);
}

/** An invented statement of so many lines, in three sections. */
export function longStatement(count: number): StatementReportInput {
  const lines = Array.from({ length: count }, (_, index) => {
    const number = index + 1;
    const section =
      (['payable', 'charges', 'penalties'] as const)[Math.floor((3 * index) / count)] ?? 'penalties';
    const sign = section === 'payable' ? '' : '-';
    return line({
      id: `${section}/${number}`,
      section,
      label: `Line number ${number} of an invented statement, with a label that runs over more than one line`,
      working: `working of line ${number}, ${'with figures that go on for a while, '.repeat(4)}end of working ${number}.`,
      quantity: { value: `${number}.${'125'.slice(0, 1 + (index % 3))}`, unit: 'ozt' },
      rate: { value: '10.00', unit: 'USD/ozt' },
      amount: `${sign}${1234 + number}.${String(10 + (number % 90))}`,
    });
  });
  return statementInput({ settlement: settlementOf(lines), changeFromPrevious: null });
}

export function tableReport(rows: TableRow[]): Report {
  return {
    title: 'Table',
    subtitle: '',
    runningHead: 'A table',
    demoNotice: null,
    language: 'en',
    blocks: [
      {
        kind: 'table',
        caption: 'A table',
        columns: [
          { key: 'label', label: 'Label', align: 'start', weight: 1 },
          { key: 'text', label: 'Text', align: 'end', weight: 2 },
        ],
        rows,
      },
    ],
  };
}
