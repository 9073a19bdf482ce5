import type { Locator, Page } from 'playwright-core';
import { expect, it } from 'vitest';
import { descriptionOf, field, textOf } from './as-owner.ts';
import { describeWithPoursheet } from './with-poursheet.ts';

describeWithPoursheet('what cannot be right', { empty: false }, (mill) => {
  /** All that could have been written by the forms of this file. */
  const books = async (): Promise<unknown> =>
    Promise.all(['/lots', '/trials', '/batches', '/balances'].map((records) => mill.ask('GET', records)));

  /** Tries to save, and expects the summary to take the focus and the field to say what is wrong with it. */
  async function refused(page: Page, save: string, wrong: Locator, says: RegExp): Promise<void> {
    const before = await books();
    await page.getByRole('button', { name: save }).click();
    const summary = page.locator(':focus').getByRole('alert');
    expect(await textOf(summary)).toMatch(/^Not saved yet/);
    expect(await textOf(summary)).toMatch(says);
    expect(await wrong.getAttribute('aria-invalid')).toBe('true');
    expect(await descriptionOf(wrong)).toMatch(says);
    expect(await books()).toEqual(before);
    await summary.getByRole('link').first().click();
    expect(await wrong.evaluate((control) => control === document.activeElement)).toBe(true);
  }

  async function newLot(page: Page, lot: Record<string, string>): Promise<Record<string, Locator>> {
    await page.goto('/lots/new');
    const typed = {
      Code: 'B-1',
      'Made on': '2026-06-20',
      'Wet mass': '182.5',
      Moisture: '7.5',
      ...lot,
    };
    const fields = Object.fromEntries(Object.keys(typed).map((label) => [label, field(page, label)]));
    for (const [label, text] of Object.entries(typed)) await fields[label]?.fill(text);
    return fields;
  }

  const stillTyped = async (fields: Record<string, Locator>): Promise<Record<string, string>> =>
    Object.fromEntries(
      await Promise.all(
        Object.entries(fields).map(async ([label, control]) => [label, await control.inputValue()] as const),
      ),
    );

  it.each([
    ['a moisture of 120 %', 'Moisture', '120', /at most 99\.99 %/],
    [
      'a decimal comma where decimals come after a point',
      'Wet mass',
      '182,5',
      /not clear whether.*after a point/,
    ],
    ['a day outside the season', 'Made on', '2025-12-24', /not be before 1 May 2026/],
  ])('refuses %s and keeps what was typed', async (_what, label, typed, says) => {
    const page = await mill.openTab();
    const fields = await newLot(page, { [label]: typed });
    const before = await stillTyped(fields);
    expect(before[label]).toBe(typed);
    await refused(page, 'Enter this lot', field(page, label), says);
    expect(await stillTyped(fields)).toEqual(before);
  });

  it('refuses a bead that is heavier than its button and keeps every weighing', async () => {
    const page = await mill.openTab();
    await page.goto('/test-smelts');
    await page
      .getByRole('link', { name: /^Next test of/ })
      .first()
      .click();
    const weighings = { 'Sample mass': '100', 'Collector lead': '45', Button: '1.5', Bead: '1600' };
    for (const [label, text] of Object.entries(weighings)) await field(page, label).fill(text);
    await refused(page, 'Save the test smelt', field(page, 'Bead'), /not be heavier than the button.*1\.5 g/);
    for (const [label, text] of Object.entries(weighings))
      expect(await field(page, label).inputValue(), label).toBe(text);

    await field(page, 'Bead').fill('160');
    await page.getByRole('button', { name: 'Save the test smelt' }).click();
    await page.getByRole('heading', { level: 1, name: /^Test \d+/ }).waitFor();
  });

  it('refuses a batch that is heavier than what is left of the lot', async () => {
    const page = await mill.openTab();
    const [lot] = await mill.ask('GET', '/lots');
    await page.goto(`/decide?lot=${lot.code}`);
    await page
      .getByRole('link', { name: /^Plan a batch: / })
      .first()
      .click();
    const [code, mass] = [field(page, 'Code'), field(page, 'Dry mass taken')];
    await code.fill('B-9');
    await mass.fill('586');
    await refused(page, 'Plan this batch', mass, new RegExp(`${lot.leftKg} kg left`));
    expect([await code.inputValue(), await mass.inputValue()]).toEqual(['B-9', '586']);
  });

  it('refuses to write over what someone else has changed since', async () => {
    const [{ id }] = await mill.ask('GET', '/lots');
    const [mine, theirs] = [await mill.openTab(), await mill.openTab()];
    for (const page of [mine, theirs]) await page.goto(`/lots/${id}/edit`);
    await field(mine, 'Remarks').fill('Mine');
    await field(theirs, 'Remarks').fill('Theirs');
    await theirs.getByRole('button', { name: 'Save the lot' }).click();
    await theirs.getByRole('heading', { level: 1, name: /^Lot / }).waitFor();
    await mine.getByRole('button', { name: 'Save the lot' }).click();
    await mine.locator(':focus').getByRole('alert').getByText('was changed by somebody else').waitFor();
    expect(await field(mine, 'Remarks').inputValue()).toBe('Mine');
    expect((await mill.ask('GET', `/lots/${id}`)).remarks).toBe('Theirs');
  });
});
