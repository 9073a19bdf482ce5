import type { Page } from 'playwright-core';
import { expect, it } from 'vitest';
import { field, standing, textOf } from './as-owner.ts';
import { describeWithPoursheet } from './with-poursheet.ts';

describeWithPoursheet('what is not saved', { empty: false }, (mill) => {
  const typed = { 'Sample mass': '99.87', 'Collector lead': '45.1', Bead: '251.' };

  const inFields = async (page: Page): Promise<Record<string, string>> =>
    Object.fromEntries(
      await Promise.all(
        Object.keys(typed).map(async (label) => [label, await field(page, label).inputValue()] as const),
      ),
    );

  it('of a half-typed test smelt outlives the tab, until it is saved', async () => {
    const [{ id: trial }] = await mill.ask('GET', '/trials');
    const address = `/test-smelts/new?trial=${trial}`;
    const page = await mill.openTab();
    await page.goto(address);
    for (const [label, text] of Object.entries(typed)) await field(page, label).fill(text);
    // Typing is kept a moment after it stops.
    await page.waitForFunction(() =>
      Object.values(localStorage).some((kept) => String(kept).includes('251.')),
    );
    await page.close();

    const next = await page.context().newPage();
    await next.goto(address);
    await next.getByText(/^Draft from \d\d:\d\d restored\./).waitFor();
    expect(await inFields(next)).toEqual(typed);
    await field(next, 'Bead').fill('251.3');
    await next.getByRole('button', { name: 'Save the test smelt' }).click();
    await next.getByRole('heading', { level: 1, name: /^Test \d+/ }).waitFor();

    await next.goto(address);
    expect(await field(next, 'Bead').inputValue()).toBe('');
    expect(await next.getByRole('button', { name: 'Discard draft' }).count()).toBe(0);
  });

  it('can be dropped', async () => {
    const page = await mill.openTab();
    await page.goto('/lots/new');
    await field(page, 'Code').fill('half a lot');
    await page.waitForFunction(() =>
      Object.values(localStorage).some((kept) => String(kept).includes('half a')),
    );
    await page.reload();
    await page.getByRole('button', { name: 'Discard draft' }).click();
    expect(await field(page, 'Code').inputValue()).toBe('');
    await page.reload();
    expect(await field(page, 'Code').inputValue()).toBe('');
  });

  it('of a what-if is in the address: another reader sees the same', async () => {
    const figures = async (page: Page): Promise<string[]> => {
      await standing(page);
      const options = page.getByRole('table', { name: 'Options side by side' });
      return [await textOf(page.getByRole('region', { name: 'Answer', exact: true })), await textOf(options)];
    };
    const [, { id: lot }] = await mill.ask('GET', '/lots');
    const page = await mill.openTab();
    await page.goto(`/decide?lot=${lot}`);
    const asRecorded = await figures(page);
    await field(page, 'Gold price').fill('1234.5');
    await field(page, 'Dry mass to decide about').fill('60');
    await field(page, 'Wage').fill('80');
    await page.waitForURL(
      ({ searchParams }) =>
        searchParams.get('gold') === '1234.5' &&
        searchParams.get('mass') === '60' &&
        searchParams.get('wage') === '80',
    );
    const whatIf = await figures(page);
    expect(whatIf).not.toEqual(asRecorded);

    const other = await mill.openTab();
    await other.goto(page.url());
    expect(await figures(other)).toEqual(whatIf);
    expect(await field(other, 'Gold price').inputValue()).toBe('1234.5');

    await other.getByRole('button', { name: 'Back to what the records say' }).click();
    await other.waitForURL(({ searchParams }) => searchParams.get('gold') === null);
    expect(await figures(other)).toEqual(asRecorded);
  });
});
