import type { Page } from 'playwright-core';
import { expect, it } from 'vitest';
import { codeAt, fromBase32, stepAt } from '../../api/accounts/totp.ts';
import { arrivedAt, fillIn, follow, goTo, pageText, press, textOf, unfold } from './as-owner.ts';
import { describeWithPoursheet, phone, type Mill } from './with-poursheet.ts';
import { readQrCode } from '../support/read-qr-code.ts';

const ANNS = 'tin heron lodge';
const BOBS = 'granite under snow';

/** Signs in on the page that stands in place of every other. */
async function signIn(page: Page, name: string, password: string, code?: string): Promise<void> {
  await arrivedAt(page, 'Sign in');
  await fillIn(page, { Name: name, Password: password });
  await press(page, 'Sign in');
  if (code === undefined) return;
  await page.getByLabel(/^Code/).fill(code);
  await press(page, 'Sign in');
}

/** Opens the link that was shown once, and chooses a password there. */
async function choosePassword(mill: Mill, link: string, password: string): Promise<void> {
  const page = await mill.openTab({ viewport: phone });
  await page.goto(link);
  await arrivedAt(page, 'Choose a password');
  await fillIn(page, { 'New password': 'password', 'New password again': 'password' });
  await press(page, 'Keep this password');
  expect(await pageText(page)).toContain('It must have at least 15 characters.');
  await fillIn(page, { 'New password': 'passwordpassword', 'New password again': 'passwordpassword' });
  await press(page, 'Keep this password');
  await page.getByText('is among those that are tried first').first().waitFor();
  await fillIn(page, { 'New password': password, 'New password again': password });
  await press(page, 'Keep this password');
  await arrivedAt(page, 'Password chosen');
}

/** Makes an account on the page of accounts and gives its link. */
async function makeAccount(page: Page, fields: Record<string, string>): Promise<string> {
  const form = page.getByRole('form', { name: 'Make an account' });
  for (const [label, value] of Object.entries(fields)) await fillIn(form, { [label]: value });
  await press(form, 'Make this account');
  const link = page.getByRole('status').locator('code.secret');
  await page.getByText(`Give this link to ${fields['Name'] ?? ''}.`).waitFor();
  return textOf(link);
}

/** What the browser notes of answers that a test asked for. */
function forgive(mill: Mill, status: RegExp): void {
  for (const complaint of mill.takeComplaints()) expect(complaint).toMatch(status);
}

describeWithPoursheet('letting others in', { empty: false }, (mill) => {
  it('goes from nobody signing in over the owner’s own account to everybody signing in', async () => {
    const page = await mill.openTab();
    await page.goto('/');
    await goTo(page, 'Accounts');
    expect(await pageText(page)).toContain('on this machine nobody has to sign in');
    const ann = await makeAccount(page, { Name: 'Ann' });
    expect(ann).toMatch(/^http:\/\/127\.0\.0\.1:\d+\/set-password#[\w-]{43}$/);
    await choosePassword(mill, ann, ANNS);
    forgive(mill, /status of 422/);

    await page.goto('/lots');
    await signIn(page, 'ann', 'wrong wrong wrong');
    await page.getByText('The name or the password is not right.').waitFor();
    expect(await page.getByRole('navigation', { name: 'Contents' }).getByRole('link').count()).toBe(0);
    await fillIn(page, { Password: ANNS });
    await press(page, 'Sign in');
    await arrivedAt(page, 'Lots');
    forgive(mill, /status of 401/);
    const [cookie] = await page.context().cookies();
    expect(cookie).toMatchObject({
      name: 'poursheet_session',
      httpOnly: true,
      sameSite: 'Strict',
      path: '/',
    });
    expect(await page.evaluate(() => document.cookie)).toBe('');
  });

  it('lets an operator enter lots and tells them plainly what they may not do', async () => {
    const owner = await mill.openTab();
    await owner.goto('/accounts');
    await signIn(owner, 'Ann', ANNS);
    await arrivedAt(owner, 'Accounts');
    const link = await makeAccount(owner, { Name: 'Bob', Role: 'operator' });
    await choosePassword(mill, link, BOBS);

    const page = await mill.openTab({ viewport: phone });
    await page.goto('/lots');
    await signIn(page, 'Bob', BOBS);
    await arrivedAt(page, 'Lots');
    forgive(mill, /status of 4(01|22)/);
    const contents = page.getByRole('navigation', { name: 'Contents' });
    await press(page, 'Menu');
    expect(await textOf(contents)).toContain('Bob, operator');
    for (const closed of ['Accounts', 'Import'])
      expect(await contents.getByRole('link', { name: closed, exact: true }).count()).toBe(0);
    // What is closed says so in place of its button, and leads to no refusal.
    const closed = 'Your account sees this and cannot save it.';
    for (const [address, title, button] of [
      ['/counterparties/new', 'New counterparty', 'Enter this counterparty'],
      ['/treatments/new', 'New treatment', 'Enter this treatment'],
    ] as const) {
      await page.goto(address);
      await arrivedAt(page, title);
      expect(await pageText(page)).toContain(closed);
      expect(await page.getByRole('button', { name: button }).count()).toBe(0);
    }
    await page.goto('/lots/new');
    await arrivedAt(page, 'New lot');
    expect(await pageText(page)).not.toContain(closed);
    expect(await page.locator('form button[type=submit]').count()).toBe(1);

    const accountant = await makeAccount(owner, { Name: 'Cleo', Role: 'accountant' });
    await choosePassword(mill, accountant, BOBS);
    const reader = await mill.openTab();
    await reader.goto('/lots');
    await signIn(reader, 'Cleo', BOBS);
    await arrivedAt(reader, 'Lots');
    await follow(reader, 'L-01');
    await arrivedAt(reader, 'Lot L-01');
    expect(await reader.getByRole('button', { name: /^Remove|^Delete/ }).count()).toBe(0);
    for (const address of ['/lots/new', '/days/new', '/settlements', '/prices']) {
      await reader.goto(address);
      await reader.locator('h1').first().waitFor();
      expect(await reader.locator('form button[type=submit]').count(), address).toBe(0);
    }
    await reader.goto('/account');
    await arrivedAt(reader, 'Your account');
    expect(await pageText(reader)).not.toContain(closed);
    forgive(mill, /status of 4(01|22)/);

    // Closing the account shows them out at their next step.
    await owner.reload();
    await unfold(owner, 'Change Bob');
    const form = owner.getByRole('form', { name: 'Change Bob' });
    await form.getByLabel('This account is closed').check();
    await press(form, 'Save the account');
    await owner.getByRole('cell', { name: 'closed' }).waitFor();
    await page.goto('/lots');
    await arrivedAt(page, 'Sign in');
  });

  it('asks for a code from the telephone once its owner wants that', async () => {
    const page = await mill.openTab();
    await page.goto('/account');
    await signIn(page, 'Ann', ANNS);
    await arrivedAt(page, 'Your account');
    await unfold(page, 'Begin with codes');
    const begin = page.getByRole('form', { name: 'Begin with codes' });
    await fillIn(begin, { 'Present password': ANNS });
    await press(begin, 'Begin with codes');
    const secret = (await textOf(page.locator('code.secret'))).replaceAll(' ', '');
    const drawn = page.getByRole('img', { name: 'The secret as a QR code' });
    const [, , width = ''] = ((await drawn.getAttribute('viewBox')) ?? '').split(' ');
    const path = (await drawn.locator('path').last().getAttribute('d')) ?? '';
    const link = new URL(readQrCode({ width: Number(width), path }) ?? 'no:code');
    expect([link.protocol, link.searchParams.get('secret')]).toEqual(['otpauth:', secret]);
    expect((await drawn.boundingBox())?.width).toBeGreaterThan(150);
    const code = (later = 0) => codeAt(fromBase32(secret), stepAt(new Date()) + later);
    await fillIn(page.getByRole('form', { name: 'Confirm the first code' }), { Code: code() });
    await press(page, 'Ask for codes from now on');
    await page.getByText('Write these recovery codes down').waitFor();
    expect(await page.locator('.secret-list code').count()).toBe(10);
    const recovery = await textOf(page.locator('.secret-list code').first());

    const later = await mill.openTab();
    await later.goto('/lots');
    // The next code is taken a step early; the one that confirmed is spent.
    await signIn(later, 'Ann', ANNS, code(1));
    await arrivedAt(later, 'Lots');
    const lost = await mill.openTab();
    await lost.goto('/lots');
    await signIn(lost, 'Ann', ANNS, recovery);
    await arrivedAt(lost, 'Lots');
    forgive(mill, /status of 401/);
    await press(lost, 'Sign out');
    await arrivedAt(lost, 'Sign in');
  });
});

describeWithPoursheet('a customer of the mill', { empty: false }, (mill) => {
  it('sees their own lots and statements at every address, and the accountant’s link opens one file', async () => {
    const owner = await mill.openTab();
    await owner.goto('/accounts');
    await choosePassword(mill, await makeAccount(owner, { Name: 'Ann' }), ANNS);
    await owner.goto('/lots');
    await signIn(owner, 'Ann', ANNS);
    await arrivedAt(owner, 'Lots');
    await follow(owner, 'L-01');
    await arrivedAt(owner, 'Lot L-01');
    await unfold(owner, 'Say whose lot it is');
    const choice = owner.getByLabel('It belongs to');
    const customer = (await choice.locator('option').allInnerTexts()).at(-1) ?? '';
    await choice.selectOption({ label: customer });
    await press(owner, 'Save whose lot it is');
    await owner.getByText(`It belongs to ${customer}, whose account may see it.`).waitFor();
    await goTo(owner, 'Accounts');
    const link = await makeAccount(owner, { Name: 'Carl', Role: 'customer', Customer: customer });
    await choosePassword(mill, link, BOBS);

    const page = await mill.openTab({ viewport: phone });
    await page.goto('/season');
    await signIn(page, 'Carl', BOBS);
    await arrivedAt(page, 'Your lots and statements');
    const text = await pageText(page);
    expect(text).toContain('The mill shows Carl one lot');
    expect(text).toContain('L-01');
    expect(text).not.toContain('L-02');
    await page.goto('/terms');
    await arrivedAt(page, 'Your lots and statements');
    forgive(mill, /status of 4(01|22)/);

    await owner.goto('/accounts/links');
    await arrivedAt(owner, 'Download links');
    await press(owner, 'Make this link');
    const address = await textOf(owner.getByRole('status').locator('code.secret'));
    const fetched = await fetch(address);
    expect([fetched.status, fetched.headers.get('content-type')]).toEqual([200, 'application/zip']);
    await press(owner, 'Take out of use');
    await press(owner, 'Take it out of use');
    await owner.getByText(/taken out of use \d/).waitFor();
    expect((await fetch(address)).status).toBe(404);
  });
});
