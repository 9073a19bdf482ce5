import { spawnSync } from 'node:child_process';
import { readFile } from 'node:fs/promises';
import { parse } from 'csv-parse/sync';
import type { Locator, Page } from 'playwright-core';
import { expect, it } from 'vitest';
import { textInOrder } from '../reports/pdf-tools.ts';
import { describeWithPoursheet, field, fillIn, standing, textOf } from './with-poursheet.ts';

const press = (place: Page | Locator, name: string): Promise<void> =>
  place.getByRole('button', { name, exact: true }).click();
const follow = (place: Page | Locator, name: string | RegExp): Promise<void> =>
  place.getByRole('link', { name, exact: typeof name === 'string' }).click();
const unfold = (page: Page, summary: string): Promise<void> =>
  page.locator('summary').filter({ hasText: summary }).click();
const goTo = async (page: Page, contents: string, heading: string): Promise<void> => {
  await follow(page.getByRole('navigation', { name: 'Contents' }), contents);
  await arrivedAt(page, heading);
};
const arrivedAt = async (page: Page, heading: string): Promise<void> => {
  await page.getByRole('heading', { level: 1, name: heading, exact: true }).waitFor();
  await standing(page);
};
const inMain = (page: Page): Promise<string> => textOf(page.getByRole('main'));

const prices = {
  'Soda ash': '1.40',
  Borax: '2.10',
  'Silica sand': '0.30',
  Nitre: '3.40',
  Flour: '1.10',
  Litharge: '5.80',
  'Collector lead': '3',
  'Iron scrap': '0.25',
  Propane: '2',
  Crucible: '90',
  Labour: '25',
};

describeWithPoursheet('the whole way through', { empty: true }, (mill) => {
  it('leads from an empty mill to the accountant', { timeout: 400_000 }, async () => {
    const page = await mill.openTab();
    await page.goto(mill.at('/'));
    await settings(page);
    await supplies(page);
    await quotations(page);
    await treatments(page);
    await terms(page);
    await lot(page);
    await testSmelts(page);
    await grades(page);
    await decision(page);
    await chargeSheet(page);
    await batch(page);
    await provisional(page);
    await final(page);
    await books(page);
  });

  async function settings(page: Page): Promise<void> {
    await goTo(page, 'Settings', 'Settings');
    const form = page.getByRole('form', { name: 'Settings of the mill' });
    await fillIn(form, { Name: 'Copperleaf Mill (invented)', 'Mass of gold and silver': 'grams (g)' });
    await press(form, 'Save the settings');
    await page.getByRole('banner').getByText('Copperleaf Mill (invented)').waitFor();

    await unfold(page, 'Open a season');
    const season = page.getByRole('form', { name: 'Open this season' });
    await fillIn(season, { Name: '2025', 'First day': '2025-05-01', 'Last day': '2025-10-31' });
    await press(season, 'Open this season');
    await page.getByRole('row', { name: '2025 1 May 2025 31 Oct 2025' }).waitFor();

    await unfold(page, 'Enter a balance');
    const balance = page.getByRole('form', { name: 'Enter this balance' });
    await fillIn(balance, { Name: 'Bench', Readability: '0.001', 'Stated repeatability': '0.001' });
    await press(balance, 'Enter this balance');
    await page.getByRole('link', { name: 'Bench' }).waitFor();
  }

  async function supplies(page: Page): Promise<void> {
    await goTo(page, 'Prices & costs', 'Prices & costs');
    await press(page, 'Enter the usual supplies');
    await arrivedAt(page, 'Enter prices');
    await fillIn(page, { 'Prices hold from': '2025-01-01', ...prices });
    await press(page, 'Save these prices');
    await page.getByText('All 11 supplies have a price.').waitFor();
  }

  async function quotations(page: Page): Promise<void> {
    const form = page.getByRole('form', { name: 'Quotation' });
    for (const [metal, day, price] of [
      ['gold (Au)', '2025-06-03', '2390'],
      ['gold (Au)', '2025-06-04', '2400'],
      ['silver (Ag)', '2025-06-03', '29.5'],
      ['silver (Ag)', '2025-06-04', '30'],
    ] as const) {
      await fillIn(form, { Metal: metal, Day: day, Price: price });
      await press(form, 'Enter this quotation');
      await form.getByText(/^Saved at/).waitFor();
    }
    expect(await textOf(page.getByRole('row', { name: 'silver (Ag)' }))).toContain('30 USD/ozt 4 Jun 2025');
  }

  async function treatments(page: Page): Promise<void> {
    for (const name of ['Smelt raw with iron', 'Dead roast, then smelt']) {
      await goTo(page, 'Treatments', 'Treatments');
      await follow(page, 'New treatment');
      await follow(page, name);
      await page.getByText('These figures are common practice').waitFor();
      await press(page, 'Enter this treatment');
      await arrivedAt(page, 'Treatments');
      await page.getByRole('table').getByRole('link', { name }).waitFor();
    }
  }

  async function terms(page: Page): Promise<void> {
    for (const [start, counterparty, name] of [
      ['Doré refining', 'Invented Refiner', 'Doré 2025'],
      ['Concentrate contract', 'Invented Smelter', 'Concentrate 2025'],
    ] as const) {
      await goTo(page, 'Buyers’ terms', 'Buyers’ terms');
      await follow(page, 'New terms');
      await follow(page, start);
      await fillIn(page, { 'Agreed with': 'Someone new' });
      await fillIn(page, {
        'Name of the counterparty': counterparty,
        'Short name of these terms': name,
        'In force from': '2025-01-01',
      });
      await press(page, 'Save these terms');
      await arrivedAt(page, name);
    }
  }

  async function lot(page: Page): Promise<void> {
    await goTo(page, 'Lots', 'Lots');
    await follow(page, 'Enter the first lot');
    await fillIn(page, { Season: '2025' });
    await fillIn(page, { Code: 'K-1', 'Made on': '2025-05-20', 'Wet mass': '250', Moisture: '8' });
    await press(page, 'Add mineral');
    await fillIn(page, { Mineral: 'pyrite', 'Share of dry mass': '60' });
    await press(page, 'Enter this lot');
    await arrivedAt(page, 'Lot K-1');
    // 250 kg less 8 %.
    expect(await inMain(page)).toContain('230 kg dry is left');
  }

  async function testSmelts(page: Page): Promise<void> {
    const weighed = {
      'Smelted on': '2025-05-25',
      'Sample mass': '100',
      'Collector lead': '40',
      Button: '37',
    };
    await follow(page, 'New test smelt');
    await arrivedAt(page, 'New test smelt');
    await fillIn(page, { 'Treatment it tries': 'Smelt raw with iron' });
    await fillIn(page, { ...weighed, Bead: '250', 'Parted gold': '60' });
    await press(page, 'Save the test smelt');
    await arrivedAt(page, 'Test 1, Smelt raw with iron');

    await follow(page, 'Next test of this trial');
    await arrivedAt(page, 'New test smelt');
    await fillIn(page, { ...weighed, Bead: '246', 'Parted gold': '58' });
    await press(page, 'Save the test smelt');
    await arrivedAt(page, 'Test 2, Smelt raw with iron');

    await follow(page, 'K-1');
    await arrivedAt(page, 'Lot K-1');
    await follow(page, 'New test smelt');
    await arrivedAt(page, 'New test smelt');
    await fillIn(page, { Trial: 'A new trial' });
    await fillIn(page, { 'Treatment it tries': 'Dead roast, then smelt' });
    expect(await page.getByLabel('The sample was roasted first').isChecked()).toBe(true);
    await fillIn(page, {
      ...weighed,
      'Mass before the roast': '100',
      'Mass after the roast': '78.5',
      'Time in the roast': '3',
      'Roast temperature': '500',
      Bead: '255',
      'Parted gold': '61',
    });
    await press(page, 'Save the test smelt');
    await arrivedAt(page, 'Test 1, Dead roast, then smelt');
  }

  async function grades(page: Page): Promise<void> {
    await follow(page, 'K-1');
    await arrivedAt(page, 'Lot K-1');
    const tests = page.getByRole('table', { name: /^Recovered, counted on the dry sample/ });
    // 60 and 58 mg of gold in 100 g are 600 and 580 g/t, together 590; 61 mg after the roast still count on 100 g.
    expect(await textOf(tests.getByRole('row', { name: 'Mean of 2' }))).toMatch(/Mean of 2 590(\.\d+)? ±/);
    expect(await textOf(tests)).toMatch(/ 610(\.\d+)? ±/);
    // Three samples of 100 g were taken of 230 kg.
    expect(await inMain(page)).toContain('229.7 kg dry is left');
  }

  async function decision(page: Page): Promise<void> {
    await follow(page, 'Decide what to do with it');
    await arrivedAt(page, 'Decide');
    await fillIn(page, { 'As the books stood on': '2025-06-05', 'Dry mass to decide about': '100' });
    await page.waitForURL(({ searchParams }) => searchParams.get('mass') === '100');
    await standing(page);
    const options = page.getByRole('table', { name: 'Options side by side' });
    expect(await options.getByRole('link', { name: /^Plan a batch: / }).count()).toBe(3);
    await follow(options, /^Plan a batch: Dead roast/);
    await arrivedAt(page, 'Plan a batch');
    expect(await field(page, 'Dry mass taken').inputValue()).toBe('100');
    expect(await field(page, 'Planned on').inputValue()).toBe('2025-06-05');
    await press(page, 'Plan this batch');
    await arrivedAt(page, 'Batch B-01');
    expect(await inMain(page)).toContain('Batch B-01 is planned; nothing has been settled yet.');
  }

  async function chargeSheet(page: Page): Promise<void> {
    await follow(page, 'Charge sheet');
    await arrivedAt(page, 'Charge sheet of batch B-01');
    // 10 charges of 10 kg; 40 g of soda and 45 g of litharge to 100 g, and of the litharge 207.2/223.2 is lead.
    const soda = page.getByRole('row', { name: /^Soda ash/ });
    expect(await textOf(soda.nth(0))).toBe('Soda ash 4,000 40.000');
    expect(await textOf(soda.nth(1))).toBe('Soda ash 40.000 kg 1.40 56.00');
    await expectFigure(page, '41.774', 'To print, with a weighing sheet (PDF)');
    expect(await inMain(page)).toContain('Roasting gives off sulfur dioxide');
    await follow(page, 'Batch B-01');
    await arrivedAt(page, 'Batch B-01');
  }

  async function batch(page: Page): Promise<void> {
    await fillIn(page, {
      Status: 'done',
      'Started on': '2025-06-08',
      'Finished on': '2025-06-10',
      'Furnace hours': '15',
      'Labour hours': '20',
      'Lead charged': '40',
      'Lead back': '36.5',
    });
    for (const [place, used] of [
      { Supply: 'Soda ash', Quantity: '60' },
      { Supply: 'Propane', Quantity: '61.5' },
    ].entries()) {
      await press(page, 'Add supply');
      await fillIn(page.getByRole('group', { name: `supply ${place + 1}` }), used);
    }
    await press(page, 'Save what came of it');
    // Soda 84.00, propane 123.00, wages 500.00, lead 120.00 − 109.50.
    await page.getByRole('row', { name: 'Costs' }).filter({ hasText: '717.50' }).waitFor();

    const product = page.getByRole('form', { name: 'New product' });
    await fillIn(product, {
      'Made on': '2025-06-10',
      'Mass of the bar': '252.0',
      'Gold, own assay': '225',
      'Silver, own assay': '720',
    });
    await press(product, 'Enter this product');
    await follow(page, 'Settle B-01-1');
  }

  const agreedPrices = async (page: Page): Promise<void> => {
    await fillIn(page, { 'Agreed price of Au': '2400', 'Agreed price of Ag': '30' });
    for (const source of await field(page, 'Agreed on, or source').all()) await source.fill('by letter');
  };

  async function issue(page: Page, day: string): Promise<void> {
    await press(page, 'Issue this statement');
    const dialog = page.getByRole('dialog', { name: 'Issue this statement' });
    await fillIn(dialog, { 'Issued on': day });
    await press(dialog, 'Issue it');
  }

  /** Downloads the print of the statement that is shown; gives its text without blanks, '' without a reader. */
  async function print(page: Page, link: string): Promise<string> {
    const address = await page.getByRole('link', { name: link }).getAttribute('href');
    const answer = await page.request.get(mill.at(address ?? ''));
    expect(answer.headers()['content-type']).toBe('application/pdf');
    const bytes = await answer.body();
    expect(bytes.subarray(0, 5).toString('latin1')).toBe('%PDF-');
    return spawnSync('pdftotext', ['-v']).error === undefined ? textInOrder(bytes) : '';
  }

  /** That a figure stands on the page, and in the print where it can be read. */
  async function expectFigure(page: Page, figure: string, link: string): Promise<void> {
    expect(await inMain(page)).toContain(figure);
    const printed = await print(page, link);
    if (printed !== '') expect(printed).toContain(figure);
  }

  async function provisional(page: Page): Promise<void> {
    await arrivedAt(page, 'New statement for B-01-1');
    await fillIn(page, { Stage: 'Provisional', 'Statement of': '2025-06-12' });
    await agreedPrices(page);
    await press(page, 'Save as a draft');
    await arrivedAt(page, 'Draft for B-01-1');
    await issue(page, '2025-06-12');
    await arrivedAt(page, 'Statement S-0001, provisional');
    // 252.0 g are 8.102 ozt. Gold 1.823 × 99.5 % = 1.814 × 2,400 = 4,353.60; silver 5.833 × 98 % = 5.716 × 30 = 171.48;
    // the refining charge is the least, 150.00; net 4,375.08, and 90 % of it is advanced.
    await expectFigure(page, '3,937.57', 'PDF to print and sign');
  }

  async function final(page: Page): Promise<void> {
    await follow(page, 'Follow with the final');
    await arrivedAt(page, 'New statement for B-01-1');
    await fillIn(page, {
      'After melting': '251.4',
      'Buyer’s Au': '224.2',
      'Buyer’s Ag': '719',
      'Melted on': '2025-06-15',
      'Statement of': '2025-06-22',
    });
    await agreedPrices(page);
    await press(page, 'Save as a draft');
    await arrivedAt(page, 'Draft for B-01-1');
    await issue(page, '2025-06-22');
    await arrivedAt(page, 'Statement S-0002, final');
    // 251.4 g are 8.083 ozt. Gold 1.812 × 99.5 % = 1.803 × 2,400 = 4,327.20; silver 5.812 × 98 % = 5.696 × 30 = 170.88;
    // less 150.00 is 4,348.08, of which 3,937.57 is paid.
    await expectFigure(page, '410.51', 'PDF to print and sign');
  }

  async function books(page: Page): Promise<void> {
    await goTo(page, 'Batches', 'Batches');
    await follow(page, 'B-01');
    await arrivedAt(page, 'Batch B-01');
    // 4,348.08 less the costs of 717.50.
    expect(await inMain(page)).toContain('Batch B-01 has brought 3,630.58 USD net (final)');

    await goTo(page, 'Season', 'Season');
    await fillIn(page, { Season: '2025' });
    await page.waitForURL(({ searchParams }) => searchParams.has('season'));
    await standing(page);
    const report = await inMain(page);
    for (const figure of ['4,348.08', '717.50', '3,630.58']) expect(report).toContain(figure);
    await expectFigure(page, '3,630.58', 'This report to print (PDF)');

    const [download] = await Promise.all([
      page.waitForEvent('download'),
      follow(page, 'For the accountant (CSV)'),
    ]);
    const rows: { amount: string }[] = parse(await readFile(await download.path()), {
      columns: true,
      bom: true,
    });
    const sum = rows.reduce((total, { amount }) => total + Number(amount), 0);
    expect(sum).toBeCloseTo(3630.58, 6);
  }
});
