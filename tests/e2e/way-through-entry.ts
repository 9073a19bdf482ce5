import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { arrivedAt, fillIn, follow, goTo, pageText, press, textOf, unfold } from './as-owner.ts';

/** What a new mill enters before it can decide, page by page. */

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

export async function settings(page: Page): Promise<void> {
  await goTo(page, 'Settings');
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

export async function supplies(page: Page): Promise<void> {
  await goTo(page, 'Prices & costs');
  await press(page, 'Enter the usual supplies');
  await arrivedAt(page, 'Enter prices');
  await fillIn(page, { 'Prices hold from': '2025-01-01', ...prices });
  await press(page, 'Save these prices');
  await page.getByText('All 11 supplies have a price.').waitFor();
}

export async function quotations(page: Page): Promise<void> {
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

export async function treatments(page: Page): Promise<void> {
  for (const name of ['Smelt raw with iron', 'Dead roast, then smelt']) {
    await goTo(page, 'Treatments');
    await follow(page, 'New treatment');
    await follow(page, name);
    await page.getByText('These figures are common practice').waitFor();
    await press(page, 'Enter this treatment');
    await arrivedAt(page, 'Treatments');
    await page.getByRole('table').getByRole('link', { name }).waitFor();
  }
}

export async function terms(page: Page): Promise<void> {
  for (const [start, counterparty, name] of [
    ['Doré refining', 'Invented Refiner', 'Doré 2025'],
    ['Concentrate contract', 'Invented Smelter', 'Concentrate 2025'],
  ] as const) {
    await goTo(page, 'Buyers’ terms');
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

export async function lot(page: Page): Promise<void> {
  await goTo(page, 'Lots');
  await follow(page, 'Enter the first lot');
  await fillIn(page, { Season: '2025' });
  await fillIn(page, { Code: 'K-1', 'Made on': '2025-05-20', 'Wet mass': '250', Moisture: '8' });
  await press(page, 'Add mineral');
  await fillIn(page, { Mineral: 'pyrite', 'Share of dry mass': '60' });
  await press(page, 'Enter this lot');
  await arrivedAt(page, 'Lot K-1');
  // 250 kg less 8 %.
  expect(await pageText(page)).toContain('230 kg dry is left');
}

export async function testSmelts(page: Page): Promise<void> {
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
