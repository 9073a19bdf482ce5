import { expect, it } from 'vitest';
import { standing } from './as-owner.ts';
import { describeWithPoursheet } from './with-poursheet.ts';

const LOTS = 105;
const codeOf = (place: number): string => `K-${String(place).padStart(3, '0')}`;

describeWithPoursheet('more lots than a page shows', { empty: true }, (mill) => {
  it('are shown page by page with the place in the address, and old ones are found by typing', async () => {
    const [season] = await mill.ask('GET', '/seasons');
    for (let place = 1; place <= LOTS; place += 1)
      await mill.ask('POST', '/lots', {
        seasonId: season.id,
        code: codeOf(place),
        description: place === 1 ? 'The first drum' : '',
        madeOn: season.startsOn,
        wetMassKg: '10',
        moistureFrac: '0.1',
      });
    const page = await mill.openTab();
    await page.goto('/lots');
    await page.getByText('100 lots on this page').waitFor();
    const oldest = page.getByRole('link', { name: codeOf(1), exact: true });
    expect(await oldest.count()).toBe(0);
    await page.getByRole('link', { name: 'Earlier lots' }).click();
    await oldest.waitFor();
    expect(new URL(page.url()).searchParams.get('after')).not.toBeNull();
    await page.goBack();
    await page.getByRole('link', { name: codeOf(LOTS), exact: true }).waitFor();

    await page.goto('/batches/new');
    await standing(page);
    const lots = page.getByRole('combobox', { name: 'Lot' });
    const offered = (code: string) => lots.locator('option', { hasText: code });
    expect(await offered(codeOf(LOTS)).count()).toBe(1);
    expect(await offered(codeOf(1)).count()).toBe(0);
    await page.getByRole('textbox', { name: 'Find lot' }).fill('first drum');
    await page.getByText('One fits; choose below.').waitFor();
    await lots.selectOption({ label: `${codeOf(1)}, 9 kg left` });
    await page.getByText('Empty: all that is left, 9 kg.').waitFor();
    // What was chosen stays, whatever is sought next.
    await page.getByRole('textbox', { name: 'Find lot' }).fill(codeOf(LOTS));
    await expect.poll(() => offered(codeOf(LOTS)).count()).toBe(1);
    expect(await lots.locator('option:checked').textContent()).toContain(codeOf(1));
  });
});
