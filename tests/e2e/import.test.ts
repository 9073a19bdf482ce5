import { readFile } from 'node:fs/promises';
import type { Page } from 'playwright-core';
import { beforeAll, expect, it } from 'vitest';
import { textOf } from './as-owner.ts';
import { describeWithPoursheet } from './with-poursheet.ts';

describeWithPoursheet('importing a table', { empty: true }, (mill) => {
  beforeAll(async () => {
    await mill.ask('POST', '/seasons', { name: '2025', startsOn: '2025-05-01', endsOn: '2025-10-31' });
    await mill.ask('POST', '/balances', { name: 'Bench', readabilityG: '0.01', repeatabilityG: '0.01' });
    await mill.ask('POST', '/balances', { name: 'Bead', readabilityG: '0.001', repeatabilityG: '0.001' });
  });

  /** Opens the page for a kind of file and downloads the file to fill in; gives its heading. */
  async function headingOfTemplate(page: Page, kind: string): Promise<string[]> {
    await page.goto('/import');
    await page.getByLabel('What the file holds').selectOption({ label: kind });
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('link', { name: 'A file to fill in' }).click(),
    ]);
    expect(download.suggestedFilename()).toBe(`${kind.replace(' ', '-')}.csv`);
    const [heading = ''] = (await readFile(await download.path(), 'utf8'))
      .replace('\uFEFF', '')
      .split('\r\n');
    return heading.split(',');
  }

  /** A file with this heading; every row names only the cells that it fills. */
  const filled = (heading: string[], rows: Record<string, string>[]): string =>
    [heading, ...rows.map((row) => heading.map((column) => row[column] ?? ''))]
      .map((cells) => `${cells.join(',')}\r\n`)
      .join('');

  const choose = (page: Page, name: string, text: string): Promise<void> =>
    page
      .getByLabel('File', { exact: true })
      .setInputFiles({ name, mimeType: 'text/csv', buffer: Buffer.from(text, 'utf8') });

  const codesOfLots = async (): Promise<string[]> =>
    (await mill.ask('GET', '/lots')).map(({ code }: { code: string }) => code);

  it('takes lots and then their test smelts from the files to fill in', async () => {
    const page = await mill.openTab();
    const lots = filled(await headingOfTemplate(page, 'lots'), [
      {
        code: 'K-1',
        made_on: '2025-06-02',
        wet_mass_kg: '200',
        moisture_percent: '7.5',
        pyrite_percent: '60',
      },
      { code: 'K-2', made_on: '2025-06-09', wet_mass_kg: '41', moisture_percent: '5' },
    ]);
    await choose(page, 'lots of June.csv', lots);
    const preview = page.getByRole('region', { name: 'Preview' });
    await preview.getByText('Nothing is wrong with this file. 2 lots would go in.').waitFor();
    expect(await codesOfLots()).toEqual([]);
    await preview.getByRole('button', { name: 'Import 2 lots' }).click();
    await page.getByText('2 lots from lots of June.csv went in.').waitFor();
    await page.getByRole('link', { name: 'Look at them' }).click();
    // 200 kg less 7.5 % and 41 kg less 5 %.
    expect(await textOf(page.getByRole('row', { name: 'K-1' }))).toContain('185 kg');
    expect(await textOf(page.getByRole('row', { name: 'K-2' }))).toContain('38.95 kg');

    const weighed = {
      lot: 'K-1',
      trial: 'As it is',
      smelted_on: '2025-06-12',
      sample_mass_g: '50.00',
      roasted: 'no',
      collector_lead_g: '45.00',
      button_g: '41.62',
      balance: 'Bench',
      bead_balance: 'Bead',
    };
    const smelts = filled(await headingOfTemplate(page, 'test smelts'), [
      { ...weighed, sample: '1', bead_mg: '20.0', parted_gold_mg: '4.0' },
      { ...weighed, sample: '2', bead_mg: '19.6', parted_gold_mg: '3.9' },
    ]);
    await choose(page, 'smelts.csv', smelts);
    await page.getByRole('button', { name: 'Import 2 test smelts' }).click();
    await page.getByText('2 test smelts from smelts.csv went in.').waitFor();
    await page.getByRole('link', { name: 'Look at them' }).click();
    // 4.0 mg of gold in 50.00 g is 80 g/t; 20.0 − 4.0 mg of silver is 320 g/t.
    const first = await textOf(page.getByRole('row', { name: 'Test 1' }));
    expect(first).toMatch(/ 80(\.0+)? ± \d/);
    expect(first).toMatch(/ 320(\.0+)? ± \d/);
  });

  it('lists what is wrong by line and column, and writes nothing', async () => {
    const before = await codesOfLots();
    const page = await mill.openTab();
    const wrong = filled(await headingOfTemplate(page, 'lots'), [
      { code: 'W-1', made_on: '2025-06-02', wet_mass_kg: '182.5', moisture_percent: '7.2' },
      { code: 'W-2', made_on: '2025-06-03', wet_mass_kg: '182.5', moisture_percent: '120' },
      { code: 'W-3', made_on: '2024-06-04', wet_mass_kg: '182.5', moisture_percent: '7' },
      { code: '', made_on: '2025-06-05', wet_mass_kg: 'much', moisture_percent: '7' },
    ]);
    await choose(page, 'wrong.csv', wrong);
    await page.getByText(/to be put right before this file can go in. Nothing was imported/).waitFor();
    const problems = page.getByRole('table', { name: 'What is wrong' });
    for (const [line, column] of [
      ['Line 3', 'moisture_percent'],
      ['Line 4', 'made_on'],
      ['Line 5', 'code'],
      ['Line 5', 'wet_mass_kg'],
    ] as const)
      expect(
        await problems.getByRole('row', { name: line }).filter({ hasText: column }).count(),
        `${line}, ${column}`,
      ).toBe(1);
    expect(await problems.getByRole('row', { name: 'Line 2' }).count()).toBe(0);
    expect(await page.getByRole('button', { name: /^Import/ }).count()).toBe(0);
    expect(await codesOfLots()).toEqual(before);
    expect(await page.getByRole('row', { name: 'wrong.csv' }).count()).toBe(0);
  });

  it('adds nothing when the same file comes twice', async () => {
    const page = await mill.openTab();
    const file = filled(await headingOfTemplate(page, 'quotations'), [
      { metal: 'Au', quoted_on: '2025-06-12', price: '3100.25', currency: 'USD', unit: 'ozt' },
      { metal: 'Ag', quoted_on: '2025-06-12', price: '33.10', currency: 'USD', unit: 'ozt' },
    ]);
    await choose(page, 'prices.csv', file);
    await page.getByRole('button', { name: 'Import 2 quotations' }).click();
    await page.getByText('2 quotations from prices.csv went in.').waitFor();
    const quoted = await mill.ask('GET', '/quotations?metal=Au');
    await choose(page, 'prices again.csv', file);
    await page.getByText('All 2 rows are there already; there is nothing to import.').waitFor();
    expect(await page.getByRole('button', { name: /^Import/ }).count()).toBe(0);
    expect(await mill.ask('GET', '/quotations?metal=Au')).toEqual(quoted);
  });
});
