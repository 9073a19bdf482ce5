import type { Locator, Page } from 'playwright-core';
import { beforeAll, expect, it } from 'vitest';
import { field, textOf } from './as-owner.ts';
import { describeWithPoursheet, phone } from './with-poursheet.ts';

const isFocused = (place: Locator): Promise<boolean> =>
  place.evaluate((element) => element === document.activeElement);

/** Goes on with Tab until a place has the focus, as someone without a mouse does. */
async function tabTo(page: Page, place: Locator): Promise<void> {
  for (let presses = 0; presses < 80; presses += 1) {
    if (await isFocused(place)) return;
    await page.keyboard.press('Tab');
  }
  throw new Error(`Tab does not lead to ${String(place)}.`);
}

/** Waits for a page to come up, and that its heading takes the focus. */
const arrivedAt = (page: Page, heading: string): Promise<void> =>
  page.locator('h1:focus').filter({ hasText: heading }).waitFor();

describeWithPoursheet('the keyboard alone', { empty: true }, (mill) => {
  beforeAll(async () => {
    await mill.ask('POST', '/seasons', { name: '2025', startsOn: '2025-05-01', endsOn: '2025-10-31' });
  });

  it('enters a lot and a test smelt', async () => {
    const page = await mill.openTab({ locale: 'en-US' });
    const type = async (label: string, text: string): Promise<void> => {
      await tabTo(page, field(page, label));
      await page.keyboard.type(text);
    };
    await page.goto('/lots/new');
    await type('Code', 'K-7');
    await type('Season', '2025');
    await type('Made on', '06152025');
    await type('Wet mass', '250');
    await type('Moisture', '8');
    await tabTo(page, page.getByRole('button', { name: 'Add mineral' }));
    await page.keyboard.press('Enter');
    await page.keyboard.type('pyrite');
    await type('Share of dry mass', '60');
    await tabTo(page, page.getByRole('button', { name: 'Enter this lot' }));
    await page.keyboard.press('Enter');

    await arrivedAt(page, 'Lot K-7');
    expect((await mill.ask('GET', '/lots'))[0]).toMatchObject({
      code: 'K-7',
      madeOn: '2025-06-15',
      dryMassKg: '230',
      minerals: [{ mineral: 'pyrite', massFrac: '0.6' }],
    });

    await tabTo(page, page.getByRole('main').getByRole('link', { name: 'New test smelt' }));
    await page.keyboard.press('Enter');
    await arrivedAt(page, 'New test smelt');
    await type('Name of the trial', 'As it is');
    await type('Smelted on', '06202025');
    await type('Sample mass', '100');
    // Enter ends a number at the bench: it goes on and sends nothing.
    await page.keyboard.press('Enter');
    expect(await isFocused(field(page, 'Sample mass'))).toBe(false);
    await type('Name of the balance', 'Bench');
    await type('Readability', '0.01');
    await type('Repeatability', '0.01');
    await type('Collector lead', '45');
    await tabTo(page, page.getByRole('button', { name: 'Add reagent' }));
    await page.keyboard.press('Enter');
    await type('Name of the reagent', 'Soda ash');
    await type('Mass', '60');
    await type('Button', '41.2');
    await type('Bead', '250');
    await type('Parted gold', '60');
    await tabTo(page, page.getByRole('button', { name: 'Save the test smelt' }));
    await page.keyboard.press('Space');

    await arrivedAt(page, 'Test 1, As it is');
    // 60 mg of gold and 250 − 60 mg of silver in 100 g.
    expect(await textOf(page.getByRole('main'))).toMatch(/recovered 600.* of gold and 1,?900.* of silver/);
  });

  it('skips to the page', async () => {
    const page = await mill.openTab();
    await page.goto('/settings');
    await page.getByRole('heading', { level: 1 }).waitFor();
    await page.keyboard.press('Tab');
    const skip = page.getByRole('link', { name: 'Skip to the page' });
    expect(await isFocused(skip)).toBe(true);
    expect((await skip.boundingBox())?.y).toBeGreaterThanOrEqual(0);
    await page.keyboard.press('Enter');
    expect(await isFocused(page.getByRole('main'))).toBe(true);
    await page.keyboard.press('Tab');
    expect(await page.getByRole('main').locator(':focus').count()).toBe(1);
  });

  it('opens the contents on a phone, closes them with Escape, and goes where they lead', async () => {
    const page = await mill.openTab({ viewport: phone });
    await page.goto('/');
    const menu = page.getByRole('button', { name: 'Menu' });
    const lots = page.getByRole('navigation', { name: 'Contents' }).getByRole('link', { name: 'Lots' });
    await tabTo(page, menu);
    expect(await lots.isVisible()).toBe(false);
    await page.keyboard.press('Enter');
    expect(await menu.getAttribute('aria-expanded')).toBe('true');
    expect(await lots.isVisible()).toBe(true);
    await page.keyboard.press('Tab');
    await page.keyboard.press('Escape');
    expect(await menu.getAttribute('aria-expanded')).toBe('false');
    expect(await lots.isVisible()).toBe(false);
    expect(await isFocused(menu)).toBe(true);

    await page.keyboard.press('Enter');
    await tabTo(page, lots);
    await page.keyboard.press('Enter');
    await arrivedAt(page, 'Lots');
    expect(await lots.isVisible()).toBe(false);
  });
});
