import { createElement } from 'react';
import type { ReactElement } from 'react';
import { renderToStaticMarkup } from 'react-dom/server';
import { describe, expect, it } from 'vitest';
import { netValueByTreatment } from '../../reports/charts/net-value-by-treatment.ts';
import { plainChoices, OwnerProvider } from '../../web/lib/owner.ts';
import { Busy } from '../../web/parts/busy.tsx';
import { Cautions } from '../../web/parts/cautions.tsx';
import { DataTable } from '../../web/parts/data-table.tsx';
import { DraftNote } from '../../web/parts/draft-note.tsx';
import { FindingList } from '../../web/parts/finding-list.tsx';
import { MoneyField } from '../../web/parts/money-field.tsx';
import { NumberField } from '../../web/parts/number-field.tsx';
import { QuantityField } from '../../web/parts/quantity-field.tsx';
import { Range } from '../../web/parts/range.tsx';
import { ReportView } from '../../web/parts/report-view.tsx';
import { SceneSvg } from '../../web/parts/scene-svg.tsx';
import { netValueExample } from '../charts/examples.ts';

const html = (element: ReactElement): string => renderToStaticMarkup(element);
/** Text between tags, with spaces that do not break made plain. */
const textIn = (element: ReactElement): string =>
  html(element)
    .replace(/<[^>]+>/g, ' ')
    .replace(/\s+/g, ' ')
    .trim();

describe('fields', () => {
  const field = { label: 'Sample mass', value: '12.', onChange: () => undefined, unit: 'g' };

  it('shows exactly what is typed, beside its unit, and says the unit with the label', () => {
    const shown = html(createElement(NumberField, { ...field, hint: 'Dry' }));
    expect(shown).toContain('value="12."');
    expect(shown).toContain('Sample mass<span class="visually-hidden">, g</span>');
    expect(shown).toContain('inputMode="decimal"');
    const hintId = /<p class="field-hint" id="([^"]+)"/.exec(shown)?.[1];
    expect(shown).toContain(`aria-describedby="${hintId}"`);
  });

  it('offers a keyboard with a minus where less than zero is allowed', () => {
    expect(html(createElement(NumberField, { ...field, min: -50 }))).toContain('inputMode="text"');
  });

  it('takes the unit and the currency from the owner', () => {
    const inPounds = (child: ReactElement): ReactElement =>
      createElement(OwnerProvider, { value: { ...plainChoices, massUnit: 'lb', currency: 'CAD' } }, child);
    const { unit: _, ...rest } = field;
    expect(textIn(inPounds(createElement(QuantityField, { ...rest, quantity: 'lotMassKg' })))).toContain(
      ', lb',
    );
    expect(textIn(inPounds(createElement(MoneyField, { ...rest, per: 'kg' })))).toContain('CAD/kg');
  });
});

describe('DataTable', () => {
  const columns = [
    { key: 'line', label: 'Line', align: 'start' as const },
    { key: 'amount', label: 'Amount, USD', align: 'end' as const },
  ];

  it('heads columns, rows and sections, and keeps small print with its row', () => {
    const shown = html(
      createElement(DataTable, {
        caption: 'Statement',
        columns,
        rows: [
          { style: 'section', cells: { line: 'Payable metal' } },
          { cells: { line: 'Gold', amount: '10.00' }, detail: '2 ozt × 5.00' },
          { style: 'section', cells: { line: 'Charges' } },
          { style: 'total', cells: { line: 'Total', amount: '10.00' } },
        ],
      }),
    );
    expect(shown.match(/<tbody>/g)).toHaveLength(2);
    expect(shown.match(/scope="col"/g)).toHaveLength(2);
    expect(shown).toContain('<th colSpan="2" scope="rowgroup">Payable metal</th>');
    expect(shown).toContain('<th scope="row" class="start">Gold</th>');
    expect(shown).toContain('<tr class="detail"><td colSpan="2">2 ozt × 5.00</td></tr>');
    expect(shown).toContain('<tr class="total">');
  });

  it('tells its roles where it is set out as a list on a phone', () => {
    const rows = [{ cells: { line: 'Gold', amount: '10.00' } }];
    const shown = html(createElement(DataTable, { caption: 'S', columns, rows, narrow: 'stack' }));
    for (const role of ['table', 'rowgroup', 'row', 'columnheader', 'rowheader', 'cell']) {
      expect(shown).toContain(`role="${role}"`);
    }
    expect(shown).toContain('data-label="Amount, USD"');
  });

  it('says that there is nothing, and shows no empty heads', () => {
    const shown = html(createElement(DataTable, { caption: 'S', columns, rows: [], empty: 'No lots yet.' }));
    expect(shown).toContain('No lots yet.');
    expect(shown).not.toContain('<thead');
  });
});

describe('notes', () => {
  it('says the level of a finding in a word, the gravest first', () => {
    const finding = (level: 'note' | 'warning' | 'blocker') => ({
      code: level,
      level,
      path: '',
      sentence: '…',
    });
    const shown = textIn(
      createElement(FindingList, { findings: [finding('note'), finding('blocker'), finding('warning')] }),
    );
    expect(shown).toMatch(/Stop\..*Warning\..*Note\./);
    expect(html(createElement(FindingList, { findings: [] }))).toBe('');
  });

  it('ends cautions with whose word goes first', () => {
    expect(textIn(createElement(Cautions, { cautions: ['Acid to water.'] }))).toMatch(
      /Acid to water\. Local codes and permits/,
    );
  });

  it('shows an uncertain figure with its span', () => {
    const range = createElement(Range, { range: { low: 641, median: 1243, high: 1902 }, unit: 'USD' });
    expect(textIn(range)).toBe('1,240 USD (8 in 10: 640 to 1,900 USD)');
    const measured = createElement(Range, { measured: { value: 312.4, u: 7 }, unit: 'g/t' });
    expect(textIn(measured)).toBe('312 ± 14 g/t');
  });

  it('shows how far work is, and never beyond the end', () => {
    expect(html(createElement(Busy, { label: 'Drawing', done: 1.2 }))).toContain('value="100"');
    expect(html(createElement(Busy, { label: 'Drawing' }))).not.toContain('value=');
  });

  it('gives the time of a restored draft and warns where the record has moved on', () => {
    const state = { kind: 'restored', savedAt: new Date(2031, 4, 4, 14, 5), recordChanged: true } as const;
    const shown = textIn(createElement(DraftNote, { state, discard: () => undefined }));
    expect(shown).toContain('Draft from 4 May 2031, 14:05 restored. The saved record has changed since');
  });
});

describe('SceneSvg and ReportView', () => {
  const scene = netValueByTreatment(netValueExample, 480);

  it('paints every mark of a scene, named and described', () => {
    const shown = html(createElement(SceneSvg, { scene }));
    const painted = shown.replace(/<defs>.*<\/defs>/, '').match(/<(line|rect|circle|path|text) /g);
    expect(painted).toHaveLength(scene.marks.length);
    expect(shown).toContain(scene.title);
    expect(shown).toContain(scene.description);
    const hatch = /<pattern id="([^"]+)"/.exec(shown)?.[1];
    expect(shown).toContain(`fill="url(#${hatch})"`);
  });

  it('shows every kind of block', () => {
    const shown = textIn(
      createElement(ReportView, {
        report: {
          title: 'Statement',
          subtitle: 'Final',
          runningHead: 'Statement, final',
          demoNotice: 'Invented.',
          language: 'en',
          blocks: [
            { kind: 'heading', text: 'A heading' },
            { kind: 'lead', text: 'A lead' },
            { kind: 'paragraph', text: 'A paragraph' },
            { kind: 'facts', facts: [{ label: 'Lot', value: 'L-7' }] },
            {
              kind: 'table',
              caption: 'A table',
              columns: [{ key: 'a', label: 'A', align: 'start', weight: 1 }],
              rows: [{ style: 'plain', cells: { a: 'a cell' } }],
            },
            { kind: 'chart', scene },
            { kind: 'notice', level: 'caution', text: 'Mind this' },
            { kind: 'signatures', parties: ['For the mill'] },
          ],
        },
      }),
    );
    for (const part of [
      'Statement Final Invented.',
      'A heading',
      'A lead',
      'A paragraph',
      'Lot L-7',
      'A table',
      'a cell',
      'Chart: Net value by treatment, lot 7',
      'Caution. Mind this',
      'For the mill',
    ]) {
      expect(shown).toContain(part);
    }
  });
});
