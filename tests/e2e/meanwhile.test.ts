import type { Page } from 'playwright-core';
import { expect, it } from 'vitest';
import { arrivedAt, field, fillIn, press, standing } from './as-owner.ts';
import { describeWithPoursheet } from './with-poursheet.ts';

describeWithPoursheet('two people on one record', { empty: false }, (mill) => {
  const openBoth = async (address: string): Promise<[Page, Page]> => {
    const pages: [Page, Page] = [await mill.openTab(), await mill.openTab()];
    for (const page of pages) {
      await page.goto(address);
      await standing(page);
    }
    return pages;
  };
  const row = (page: Page, name: string) =>
    page.getByRole('region', { name: 'Changed meanwhile' }).getByRole('row').filter({ hasText: name });

  it('the later one sees what the other changed, loses nothing, chooses field by field, and saves', async () => {
    const [{ id, code }] = await mill.ask('GET', '/lots');
    const [first, later] = await openBoth(`/lots/${id}/edit`);
    await fillIn(first, { 'Wet mass': '777', Remarks: 'weighed again', Description: 'from the north vein' });
    await press(first, 'Save the lot');
    await arrivedAt(first, `Lot ${code}`);

    await fillIn(later, { 'Wet mass': '888', Moisture: '6.5', Description: 'mine' });
    await press(later, 'Save the lot');
    await row(later, 'Wet mass').waitFor();
    expect(await row(later, 'Wet mass').innerText()).toMatch(/777[\s\S]*888/);
    await later.getByText(/The record was changed by Owner, /).waitFor();
    // Typed by one alone: as each left it.
    expect(await field(later, 'Moisture').inputValue()).toBe('6.5');
    expect(await field(later, 'Remarks').inputValue()).toBe('weighed again');
    expect(await field(later, 'Wet mass').inputValue()).toBe('888');

    await later.getByRole('button', { name: 'Take theirs: Wet mass' }).click();
    expect(await field(later, 'Wet mass').inputValue()).toBe('777');
    await later.getByRole('button', { name: 'Keep mine: Wet mass' }).click();
    expect(await field(later, 'Wet mass').inputValue()).toBe('888');
    await later.getByRole('button', { name: 'Take theirs: Description' }).click();
    await press(later, 'Save the lot');
    await arrivedAt(later, `Lot ${code}`);
    expect(await mill.ask('GET', `/lots/${id}`)).toMatchObject({
      wetMassKg: '888',
      moistureFrac: '0.065',
      remarks: 'weighed again',
      description: 'from the north vein',
    });
  });

  it('of the settings as well', async () => {
    const [first, later] = await openBoth('/settings');
    const settings = (page: Page) => page.getByRole('form', { name: 'Settings of the mill' });
    await fillIn(settings(first), { Address: 'The upper creek' });
    await press(first, 'Save the settings');
    await first.getByText(/^Saved at/).waitFor();
    await fillIn(settings(later), { Name: 'Mill of the later one', Address: 'The lower creek' });
    await press(later, 'Save the settings');
    await later
      .getByRole('alert')
      .getByText('Address: ', { exact: false })
      .or(row(later, 'Address'))
      .first()
      .waitFor();
    const compare = later.getByRole('button', { name: 'Compare it with what I typed' });
    if (await compare.isVisible()) await compare.click();
    await row(later, 'Address').waitFor();
    expect(await field(settings(later), 'Name').inputValue()).toBe('Mill of the later one');
    await later.getByRole('button', { name: 'Take theirs: Address' }).click();
    await press(later, 'Save the settings');
    await later.getByText(/^Saved at/).waitFor();
    expect(await mill.ask('GET', '/mill')).toMatchObject({
      name: 'Mill of the later one',
      address: 'The upper creek',
    });
  });
});
