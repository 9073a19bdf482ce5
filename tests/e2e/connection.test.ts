import type { Page } from 'playwright-core';
import { expect, it } from 'vitest';
import { arrivedAt, field, fillIn, goTo, press } from './as-owner.ts';
import { describeWithPoursheet } from './with-poursheet.ts';

const note = (page: Page) => page.locator('.waiting-note');

describeWithPoursheet('a lost connection', { empty: false }, (mill) => {
  const typeLot = async (page: Page, code: string): Promise<void> => {
    await page.goto('/lots/new');
    await fillIn(page, { Code: code, 'Made on': '2026-06-20', 'Wet mass': '200', Moisture: '5' });
  };
  const lotsNamed = async (code: string): Promise<unknown[]> =>
    (await mill.ask('GET', '/lots')).filter((lot: { code: string }) => lot.code === code);

  it('keeps what was saved, says so on every page, and sends it once when the connection is back', async () => {
    const page = await mill.openTab();
    // Pages already fetched can be gone to without a connection.
    await page.goto('/lots');
    await typeLot(page, 'N-1');
    await page.context().setOffline(true);
    await press(page, 'Enter this lot');
    await page.getByText('What you typed is kept and is sent when the connection is back').waitFor();
    await note(page).getByText('1 entry waits for the connection').waitFor();
    expect(await field(page, 'Wet mass').inputValue()).toBe('200');
    expect(mill.takeComplaints().join()).toContain('ERR_INTERNET_DISCONNECTED');

    await page.context().setOffline(false);
    await note(page).getByText('The connection is back. Saved: Enter this lot.').waitFor();
    expect(await lotsNamed('N-1')).toHaveLength(1);
    await page.getByText('Not sent yet').waitFor({ state: 'detached' });
    expect(await field(page, 'Code').inputValue()).toBe('');
    expect(mill.takeComplaints().filter((text) => !text.includes('ERR_INTERNET_DISCONNECTED'))).toEqual([]);
  });

  it('survives a closed tab and a lost answer: what had arrived is not booked twice', async () => {
    const page = await mill.openTab();
    await typeLot(page, 'N-2');
    // The request arrives, its answer does not.
    await page.route('**/api/lots', async (route) => {
      if (route.request().method() !== 'POST') return route.continue();
      await route.fetch();
      await route.abort();
    });
    await press(page, 'Enter this lot');
    await note(page).getByText('1 entry waits for the connection').waitFor();
    expect(await lotsNamed('N-2')).toHaveLength(1);
    expect(mill.takeComplaints().join()).toContain('ERR_FAILED');
    await page.close();

    const next = await page.context().newPage();
    await next.goto('/');
    await note(next).getByText('The connection is back. Saved: Enter this lot.').waitFor();
    expect(await lotsNamed('N-2')).toHaveLength(1);
    await next.goto('/lots/new');
    expect(await field(next, 'Code').inputValue()).toBe('');
    await goTo(next, 'Lots');
    await next.getByRole('link', { name: /N-2/ }).first().waitFor();
  });

  it('shows what was refused when it was sent, with what was typed', async () => {
    const page = await mill.openTab();
    await typeLot(page, 'N-3');
    await page.context().setOffline(true);
    await press(page, 'Enter this lot');
    await note(page).getByText('1 entry waits for the connection').waitFor();
    const [season] = await mill.ask('GET', '/seasons');
    const other = {
      code: 'N-3',
      seasonId: season.id,
      madeOn: '2026-06-21',
      wetMassKg: '1',
      moistureFrac: '0',
    };
    await mill.ask('POST', '/lots', other);
    mill.takeComplaints();
    await page.context().setOffline(false);
    await note(page)
      .getByText(/was not taken: .*Code "N-3" is already taken/)
      .waitFor();
    await note(page).getByRole('link', { name: 'Open what was typed' }).click();
    await arrivedAt(page, 'New lot');
    expect(await field(page, 'Wet mass').inputValue()).toBe('200');
    await fillIn(page, { Code: 'N-4' });
    await press(page, 'Enter this lot');
    await arrivedAt(page, 'Lot N-4');
    mill.takeComplaints();
  });
});
