import { Decimal } from 'decimal.js';
import { describe, expect, it } from 'vitest';
import { measuredMatte } from '../../../api/calc/facts/measured-matte.ts';
import { chargeSheetReport } from '../../../reports/model/charge-sheet-report.ts';
import type { Block, Report, TableBlock } from '../../../reports/model/report.ts';
import { chargeSheetInputOf, recipeOf } from '../charge-sheet-fixture.ts';

const tableOf = (report: Report, caption: RegExp): TableBlock => {
  const found = report.blocks.find(
    (block): block is TableBlock => block.kind === 'table' && caption.test(block.caption),
  );
  if (found === undefined) throw new Error(`no table ${caption.source}`);
  return found;
};
const rowOf = (table: TableBlock, name: RegExp) => table.rows.find((row) => name.test(row.cells.name ?? ''));
const factsOf = (report: Report) =>
  Object.fromEntries(
    report.blocks.flatMap((block) =>
      block.kind === 'facts' ? block.facts.map(({ label, value }) => [label, value]) : [],
    ),
  ) as Record<string, string>;
const textsOf = (report: Report, kind: 'lead' | 'paragraph' | 'notice' | 'heading') =>
  report.blocks.flatMap((block) => (block.kind === kind ? [block.text] : []));
const number = (cell: string | undefined) => new Decimal((cell ?? '').replaceAll(',', ''));

describe('chargeSheetReport', () => {
  const report = chargeSheetReport(chargeSheetInputOf());

  // By hand: 62.4 kg = 12 × 5 + 2.4; 13 × 2.5, 1.5 and 0.7 h; lead 18.72 + 6.24 × 207.2/223.199 (IUPAC 2021) = 24.513 kg,
  // times 0.9, 0.8 and 0.95.
  it('says first how many charges there are, what they take and what comes back', () => {
    expect(textsOf(report, 'lead')).toEqual([
      'Batch T-B1 is 13 charges, 12 of 5 kg and a last one of 2.4 kg. By the treatment it takes 32.5 h of roasting, ' +
        '19.5 h of furnace and 9.1 h of labour. 24.513 kg of lead go in; about 22.1 kg, between 19.6 and 23.3 kg, should come back.',
    ]);
  });

  it('lists everything to weigh out, with columns that add up', () => {
    const table = tableOf(report, /^Grams for each charge/);
    expect(table.columns.map(({ label }) => label)).toEqual([
      'Material',
      'Each of 12 charges of 5 kg, g',
      'Last charge, 2.4 kg, g',
      'In all, kg',
    ]);
    expect(rowOf(table, /^Flour/)?.cells).toEqual({
      name: 'Flour',
      mass0: '375',
      mass1: '180',
      totalKg: '4.680',
    });
    const sum = table.rows.at(-1);
    expect(sum?.style).toBe('total');
    for (const { key, align } of table.columns) {
      if (align === 'start') continue;
      const added = table.rows
        .slice(0, -1)
        .reduce((all, row) => all.plus(number(row.cells[key])), new Decimal(0));
      expect(added.equals(number(sum?.cells[key]))).toBe(true);
    }
    expect(textsOf(report, 'paragraph')[0]).toContain('multiples of 1 g');
    expect(textsOf(report, 'paragraph')[0]).toContain('all the calcine of a charge');
  });

  it('says what goes in, what comes out and what is given off', () => {
    const facts = factsOf(report);
    expect(facts['Cupels']).toBe('25 × Cupel');
    expect(facts['Crucibles']).toBe('2 × Crucible, at 8 charges each');
    expect(facts['Fuel']).toBe('28.6 kg of Propane');
    expect(facts['Roast pans']).toBe('38 pan loads of at most 2 kg');
    // Pyrite loses 33.44 % on a dead roast and gives 1.06795 g of SO2 a gram (IUPAC 2021): 5 × (1 − 0.6 × 0.3344);
    // 62.4 × 0.6 × 1.06795 = 39.98 kg.
    expect(facts['Calcine of a full charge, dead roast']).toBe('about 4 kg');
    expect(facts['Sulfur dioxide given off by the roast']).toBe('about 40 kg');
    expect(Object.keys(facts)).not.toContain('Arsenic trioxide given off by the roast');
    expect(Object.keys(facts)).not.toContain('Iron');
  });

  // 62.4 kg with a tenth of arsenopyrite: × 0.1 × 98.921/162.827 (IUPAC 2021) = 3.79 kg.
  it('says how much arsenic trioxide an arsenical roast would give off, and warns of it at the top', () => {
    const arsenical = chargeSheetReport(
      chargeSheetInputOf({ lot: { minerals: [{ mineral: 'arsenopyrite', massFrac: '0.1' }] } }),
    );
    expect(factsOf(arsenical)['Arsenic trioxide given off by the roast']).toBe(
      'about 3.79 kg: a deadly poison',
    );
    const kinds = arsenical.blocks.map(({ kind }) => kind);
    const notices = textsOf(arsenical, 'notice');
    expect(kinds.slice(0, 2)).toEqual(['lead', 'notice']);
    expect(notices[0]).toContain('Do not roast this lot without professional control');
    expect(notices.findIndex((text) => text.includes('61 g of arsenic trioxide'))).toBeLessThan(
      kinds.indexOf('facts'),
    );
  });

  // C. and J. J. Beringer, A Text-book of Assaying, 9th ed. 1904: 20 g of ore with 50 % pyrite and 20 g of nitre, with
  // enough litharge, give a button of 30 g; a thousandfold here.
  it('foretells the lead that an oxidizing charge reduces', () => {
    const oxidizing = chargeSheetReport(
      chargeSheetInputOf({
        dryMassKg: '20',
        lot: {
          minerals: [
            { mineral: 'pyrite', massFrac: '0.5' },
            { mineral: 'quartz', massFrac: '0.5' },
          ],
        },
        treatment: { roast: false, chargeSizeKg: 20, recipe: recipeOf({ Nitre: '100', Litharge: '1000' }) },
      }),
    );
    const effects = tableOf(oxidizing, /^Expected in a charge of 20 kg/);
    expect(rowOf(effects, /^Lead reduced/)?.cells.value).toBe('30.00');
    expect(textsOf(oxidizing, 'lead')[0]).toMatch(/^Batch T-B1 is one charge of 20 kg\. /);
  });

  // The same: 50 g of quartz take 88.5 g of soda ash to a bisilicate; 88.20 g by IUPAC weights.
  it('names the slag by its silicate degree', () => {
    const flux = chargeSheetReport(
      chargeSheetInputOf({
        lot: { minerals: [{ mineral: 'quartz', massFrac: '1' }] },
        treatment: { recipe: recipeOf({ 'Soda ash': '176.4', 'Lead shot': '30' }) },
      }),
    );
    expect(rowOf(tableOf(flux, /^Expected/), /bisilicate/)?.cells.value).toBe('2.00');
  });

  // 10 g of pyrite hold 5.345 g of sulfur and give off half of it on heating, which burns to 1.998 times its mass.
  it('says what sulfur dioxide a raw melt gives off, and cautions of it', () => {
    const raw = chargeSheetReport(
      chargeSheetInputOf({
        dryMassKg: '10',
        lot: { minerals: [{ mineral: 'pyrite', massFrac: '1' }] },
        treatment: { roast: false, recipe: recipeOf({ 'Lead shot': '30', 'Soda ash': '50' }) },
      }),
    );
    expect(factsOf(raw)['Sulfur dioxide given off by the melt, at most']).toBe('about 5.34 kg');
    expect(textsOf(raw, 'notice')[0]).toContain('Sulfides in the crucible give off sulfur dioxide');
  });

  it('lists what to buy with what can be priced, and names what cannot', () => {
    const iron = chargeSheetReport(
      chargeSheetInputOf({
        treatment: { roast: false, recipe: recipeOf({ 'Lead shot': '30', Rebar: '20', 'Soda ash': '80' }) },
      }),
    );
    const table = tableOf(iron, /^To have at hand/);
    expect(rowOf(table, /^Lead shot/)?.cells).toMatchObject({
      quantity: '18.720 kg',
      amount: '58.03',
    });
    expect(rowOf(table, /^Rebar/)?.cells).toMatchObject({ unitPrice: 'no price yet', amount: '–' });
    // 58.03 + 49.92 × 1.40 + 28.6 × 1.90 + 2 × 165 + 25 × 9, by hand; 18.72 kg of lead × 0.95 in buttons of 1.425 kg
    // take two cupels a charge, and the last of 0.684 kg one.
    expect(table.rows.at(-1)?.cells).toMatchObject({ name: 'What is priced', amount: '737.26' });
    expect(textsOf(iron, 'paragraph').join(' ')).toContain('Not in the sum: Rebar.');
  });

  it('gives the work in its order and the cautions, the authority of local codes once', () => {
    const steps = report.blocks.find(
      (block): block is Extract<Block, { kind: 'steps' }> => block.kind === 'steps',
    );
    expect(steps?.steps.join(' ')).toContain('430 to 540 °C (800 to 1000 °F)');
    expect(steps?.steps.join(' ')).toContain('327.46 °C (621 °F)');
    const words = JSON.stringify(report);
    expect(words.split('local codes and permits govern')).toHaveLength(2);
    for (const title of [
      'Roasting gives off sulfur dioxide. ',
      'Lead fume and dust. ',
      'Molten metal and slag. ',
    ])
      expect(textsOf(report, 'notice').some((text) => text.startsWith(title))).toBe(true);
  });

  it('ends with a blank sheet of a row a charge, on pages of its own', () => {
    const page = report.blocks.findIndex((block) => block.kind === 'page');
    expect(report.blocks[page]).toEqual({ kind: 'page', orientation: 'landscape' });
    const table = tableOf(report, /^Charge by charge/);
    expect(report.blocks.indexOf(table)).toBeGreaterThan(page);
    expect(table.toFillIn).toBe(true);
    expect(table.rows).toHaveLength(13);
    expect(table.rows.at(-1)?.cells).toEqual({ charge: '13', concentrate: '2,400' });
    expect(table.columns.map(({ label }) => label)).toEqual([
      'Charge',
      'Concentrate',
      'Before roast',
      'After roast',
      'Lead in',
      'Time in',
      'Time out',
      'Button',
      'Matte, speiss',
      'Slag',
      'Bead or bar',
      'Remarks',
    ]);
  });

  it('has no more rows than can be carried, and says so', () => {
    const many = chargeSheetReport(chargeSheetInputOf({ dryMassKg: '1250' }));
    expect(tableOf(many, /^Charge by charge/).rows).toHaveLength(200);
    expect(textsOf(many, 'paragraph').join(' ')).toContain('first 200 of 250 charges');
  });

  it('leaves the roast out of a treatment without one, and takes iron in and out where there is some', () => {
    const iron = chargeSheetReport(
      chargeSheetInputOf({
        treatment: { roast: false, recipe: recipeOf({ 'Lead shot': '30', Rebar: '20' }) },
      }),
    );
    const heads = tableOf(iron, /^Charge by charge/).columns.map(({ label }) => label);
    expect(heads).toContain('Iron out');
    expect(heads).not.toContain('Before roast');
    expect(textsOf(iron, 'lead')[0]).not.toContain('roasting');
    expect(factsOf(iron)['Iron']).toBe('12.480 kg');
  });

  // 1 lb = 0.45359237 kg exactly (NIST Handbook 44, appendix C): 62.4 kg = 137.57 lb.
  it('gives pounds beside kilograms to an owner who works in them', () => {
    const pounds = chargeSheetReport(chargeSheetInputOf({}, { massUnit: 'lb' }));
    expect(factsOf(pounds)['Dry mass']).toBe('62.4 kg (137.57 lb)');
    expect(rowOf(tableOf(pounds, /^Grams for each charge/), /^Concentrate/)?.cells.totalLb).toBe('137.57');
  });

  it('shows the matte that the test smelts of the lot gave beside what the minerals tell', () => {
    // 12, 15 and 18 g from 100 g each: 15 % in all; of a charge of 5 kg 0.75 kg, 0.60 to 0.90 kg.
    const smelts = [12, 15, 18].map((matteG) => ({ setAsideReason: null, matteG, sampleMassG: 100 }));
    const measured = measuredMatte(
      [
        { treatmentId: 'roast', smelts },
        { treatmentId: 'other', smelts: [{ setAsideReason: null, matteG: 90, sampleMassG: 100 }] },
      ],
      'roast',
    );
    const sheet = chargeSheetReport(chargeSheetInputOf({}, { measuredMatte: measured }));
    expect(
      rowOf(tableOf(sheet, /^Expected in a charge/), /^Matte by the 3 test smelts/)?.cells,
    ).toMatchObject({
      low: '0.60',
      value: '0.75',
      high: '0.90',
    });
    expect(measuredMatte([{ treatmentId: 'roast', smelts: [] }], 'roast')).toBeNull();
  });

  it('without minerals leaves out what it cannot know and says why', () => {
    const bare = chargeSheetReport(chargeSheetInputOf({ lot: { minerals: [] } }));
    expect(textsOf(bare, 'heading')).not.toContain('What the recipe will do');
    expect(textsOf(bare, 'notice').join(' ')).toContain('No minerals are named');
    expect(Object.keys(factsOf(bare)).join(' ')).not.toContain('given off');
  });

  it('says what is wrong instead of a sheet where there can be none', () => {
    const none = chargeSheetReport(chargeSheetInputOf({ treatment: { recipe: recipeOf({ Unheard: '5' }) } }));
    expect(textsOf(none, 'lead')[0]).toContain('cannot be made');
    expect(textsOf(none, 'notice')[0]).toContain('not on the list any more');
    expect(none.blocks.some((block) => block.kind === 'table')).toBe(false);
  });
});
