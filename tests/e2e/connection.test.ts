import type { Page } from 'playwright-core';
import { expect, it } from 'vitest';
import { arrivedAt, field, fillIn, goTo, press } from './as-owner.ts';
import { describeWithPoursheet, phone } from './with-poursheet.ts';

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

  /** Presses a button without a connection, and waits until the page says that it will be sent. */
  const pressOffline = async (page: Page, button: string): Promise<void> => {
    await page.context().setOffline(true);
    await press(page, button);
    await page.getByText('What you typed is kept and is sent when the connection is back').waitFor();
    await note(page).getByText('1 entry waits for the connection').waitFor();
    expect(mill.takeComplaints().join()).toContain('ERR_INTERNET_DISCONNECTED');
  };
  const backOnline = async (page: Page, said: string | RegExp): Promise<void> => {
    await page.context().setOffline(false);
    await note(page).getByText(said).waitFor();
    const complaints = mill.takeComplaints();
    expect(complaints.filter((text) => !/ERR_INTERNET_DISCONNECTED|status of (409|422)/.test(text))).toEqual(
      [],
    );
  };
  const daysOn = async (day: string): Promise<{ hoursRun: string; remarks: string }[]> =>
    (await mill.ask('GET', '/days')).filter((one: { day: string }) => one.day === day);
  const typeDay = async (page: Page, day: string, remarks: string): Promise<void> => {
    await page.goto('/days/new');
    await arrivedAt(page, 'New day');
    await fillIn(page, { Day: day, 'Hours run': '7', Remarks: remarks });
  };
  /** The last days of the season so far that are not entered yet. */
  const emptyDays = async (): Promise<[string, string]> => {
    const entered = new Set((await mill.ask('GET', '/days')).map((one: { day: string }) => one.day));
    const empty: string[] = [];
    for (let at = Date.parse('2026-06-20'); empty.length < 2; at -= 24 * 3600 * 1000) {
      const day = new Date(at).toISOString().slice(0, 10);
      if (!entered.has(day)) empty.push(day);
    }
    return [empty[0] ?? '', empty[1] ?? ''];
  };

  it('sends a day from a phone, and says if somebody else has entered it meanwhile', async () => {
    const [first, second] = await emptyDays();
    const page = await mill.openTab({ viewport: phone });
    await typeDay(page, first, 'typed at the mill');
    await pressOffline(page, 'Enter this day');
    expect(await daysOn(first)).toHaveLength(0);
    await backOnline(page, 'The connection is back. Saved: Enter this day.');
    expect((await daysOn(first)).map(({ remarks }) => remarks)).toEqual(['typed at the mill']);

    await typeDay(page, second, 'typed by the second');
    await pressOffline(page, 'Enter this day');
    const days: Record<string, unknown>[] = await mill.ask('GET', '/days');
    const { id: _id, version: _version, ...other } = days.find(({ day }) => day === first) ?? {};
    await mill.ask('POST', '/days', { ...other, day: second, remarks: 'typed by the first' });
    await backOnline(page, /“Enter this day” was sent when the connection was back and was not taken: /);
    await note(page).getByText(`Day "${second}" is already taken`).waitFor();
    expect((await daysOn(second)).map(({ remarks }) => remarks)).toEqual(['typed by the first']);
    await note(page).getByRole('link', { name: 'Open what was typed' }).click();
    await arrivedAt(page, 'New day');
    expect(await field(page, 'Remarks').inputValue()).toBe('typed by the second');
  });

  it('sends an expense and a purchase, each once', async () => {
    const page = await mill.openTab();
    await page.goto('/expenses');
    const expense = page.getByRole('form', { name: 'Enter this expense' });
    await fillIn(expense, { Amount: '41.25', 'Number of the bill': 'offline 1' });
    await pressOffline(page, 'Enter this expense');
    await backOnline(page, 'The connection is back. Saved: Enter this expense.');
    const expenses: { document: string }[] = await mill.ask('GET', '/expenses');
    expect(expenses.filter(({ document }) => document === 'offline 1')).toHaveLength(1);
    await page.getByText('Not sent yet').waitFor({ state: 'detached' });
    expect(await field(expense, 'Amount').inputValue()).toBe('');

    await page.goto('/supply-stock/buy');
    await field(page, 'Supply').selectOption({ index: 1 });
    await fillIn(page, { Quantity: '3', 'What it cost in all': '12', Remarks: 'offline 2' });
    await pressOffline(page, 'Enter this purchase');
    await backOnline(page, /The connection is back. Saved: .*Enter this purchase/);
    const purchases = await mill.ask('GET', '/supply-purchases');
    expect(purchases.filter((one: { remarks: string }) => one.remarks === 'offline 2')).toHaveLength(1);
  });

  it('says of a form that does not wait by itself that it is to be saved again', async () => {
    const page = await mill.openTab();
    await page.goto('/supply-stock/count');
    await page.getByRole('group', { name: 'Day' }).waitFor();
    const counted = page.getByRole('textbox').last();
    await counted.fill('5');
    await page.context().setOffline(true);
    await press(page, 'Save this count');
    await page.getByText('stays on this page: save it again when the connection is back').waitFor();
    expect(await counted.inputValue()).toBe('5');
    expect(mill.takeComplaints().join()).toContain('ERR_INTERNET_DISCONNECTED');
    await page.context().setOffline(false);
  });
});
