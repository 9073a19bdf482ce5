import { spawnSync } from 'node:child_process';
import { readFile } from 'node:fs/promises';
import { parse } from 'csv-parse/sync';
import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { textInOrder } from '../reports/pdf-tools.ts';
import { arrivedAt, field, fillIn, follow, goTo, pageText, press, standing, textOf } from './as-owner.ts';

/** From the tests of a lot to the accountant, page by page; what is simple is worked out by hand beside it. */

export async function grades(page: Page): Promise<void> {
  await follow(page, 'K-1');
  await arrivedAt(page, 'Lot K-1');
  const tests = page.getByRole('table', { name: /^Recovered, counted on the dry sample/ });
  // 60 and 58 mg of gold in 100 g are 600 and 580 g/t, together 590; 61 mg after the roast still count on 100 g.
  expect(await textOf(tests.getByRole('row', { name: 'Mean of 2' }))).toMatch(/Mean of 2 590(\.\d+)? ±/);
  expect(await textOf(tests)).toMatch(/ 610(\.\d+)? ±/);
  // Three samples of 100 g were taken of 230 kg.
  expect(await pageText(page)).toContain('229.7 kg dry is left');
}

export async function decision(page: Page): Promise<void> {
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
  expect(await pageText(page)).toContain('Batch B-01 is planned; nothing has been settled yet.');
}

/** Downloads the print that a link offers; gives its text without blanks, '' where no reader of PDF is installed. */
async function print(page: Page, link: string): Promise<string> {
  const address = await page.getByRole('link', { name: link }).getAttribute('href');
  const answer = await page.request.get(address ?? '');
  expect(answer.headers()['content-type']).toBe('application/pdf');
  const bytes = await answer.body();
  expect(bytes.subarray(0, 5).toString('latin1')).toBe('%PDF-');
  return spawnSync('pdftotext', ['-v']).error === undefined ? textInOrder(bytes) : '';
}

/** That a figure stands on the page, and in the print where it can be read. */
async function expectFigure(page: Page, figure: string, link: string): Promise<void> {
  expect(await pageText(page)).toContain(figure);
  const printed = await print(page, link);
  if (printed !== '') expect(printed).toContain(figure);
}

export async function chargeSheet(page: Page): Promise<void> {
  await follow(page, 'Charge sheet');
  await arrivedAt(page, 'Charge sheet of batch B-01');
  // 10 charges of 10 kg; 40 g of soda and 45 g of litharge to 100 g, and of the litharge 207.2/223.2 is lead.
  const soda = page.getByRole('row', { name: /^Soda ash/ });
  expect(await textOf(soda.nth(0))).toBe('Soda ash 4,000 40.000');
  expect(await textOf(soda.nth(1))).toBe('Soda ash 40.000 kg 1.40 56.00');
  await expectFigure(page, '41.774', 'To print, with a weighing sheet (PDF)');
  expect(await pageText(page)).toContain('Roasting gives off sulfur dioxide');
  await follow(page, 'Batch B-01');
  await arrivedAt(page, 'Batch B-01');
}

export async function batch(page: Page): Promise<void> {
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

/** Issues the draft on the day it was drawn up on, which is filled in. */
async function issue(page: Page, day: string): Promise<void> {
  await press(page, 'Issue this statement');
  const dialog = page.getByRole('dialog', { name: 'Issue this statement' });
  expect(await field(dialog, 'Issued on').inputValue()).toBe(day);
  await press(dialog, 'Issue it');
}

export async function provisional(page: Page): Promise<void> {
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

export async function final(page: Page): Promise<void> {
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

export async function books(page: Page): Promise<void> {
  await goTo(page, 'Batches');
  await follow(page, 'B-01');
  await arrivedAt(page, 'Batch B-01');
  // 4,348.08 less the costs of 717.50.
  expect(await pageText(page)).toContain('Batch B-01 has brought 3,630.58 USD net (final)');

  await goTo(page, 'Season');
  await fillIn(page, { Season: '2025' });
  await page.waitForURL(({ searchParams }) => searchParams.has('season'));
  await standing(page);
  const report = await pageText(page);
  for (const figure of ['4,348.08', '717.50', '3,630.58']) expect(report).toContain(figure);
  await expectFigure(page, '3,630.58', 'This report to print (PDF)');

  const [download] = await Promise.all([
    page.waitForEvent('download'),
    follow(page, 'Amounts of batches and statements (CSV)'),
  ]);
  const rows: { amount: string }[] = parse(await readFile(await download.path()), {
    columns: true,
    bom: true,
  });
  const sum = rows.reduce((total, { amount }) => total + Number(amount), 0);
  expect(sum).toBeCloseTo(3630.58, 6);
}
