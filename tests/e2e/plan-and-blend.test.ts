import { expect, it } from 'vitest';
import { field, fillIn, pageText, press, standing, textOf, unfold } from './as-owner.ts';
import { describeWithPoursheet } from './with-poursheet.ts';

describeWithPoursheet('a blend and a plan', { empty: false }, ({ openTab, ask }) => {
  it('keep a blend in the address, and make it a lot with its parts filled in', async () => {
    const left = (await ask('GET', '/lots')).filter((lot: { leftKg: string }) => Number(lot.leftKg) > 30);
    const [first, second] = left;
    const page = await openTab();
    await page.goto(`/decide?lot=${first.id}`);
    await standing(page);
    await field(page, 'Dry mass to decide about').fill('20');
    await press(page, 'Add lot');
    const other = page.getByRole('group', { name: 'Blended with' });
    await field(other, 'Lot').selectOption(second.id);
    await field(other, 'Dry mass of it').fill('10.5');
    await page.waitForURL(
      ({ searchParams }) =>
        searchParams.get('mass') === '20' && searchParams.get('with') === `${second.id}:10.5`,
    );
    const subject = `this blend of ${first.code} and ${second.code}`;
    await page.getByText(subject).first().waitFor();

    // Whoever opens the address sees the same blend, and the same answer.
    await standing(page);
    const answer = await textOf(page.getByRole('table', { name: 'Options side by side' }));
    const elsewhere = await openTab();
    await elsewhere.goto(page.url());
    await elsewhere.getByText(subject).first().waitFor();
    await standing(elsewhere);
    expect(await textOf(elsewhere.getByRole('table', { name: 'Options side by side' }))).toBe(answer);

    await elsewhere.getByRole('link', { name: 'Make it a lot', exact: true }).click();
    await elsewhere.getByRole('heading', { level: 1, name: 'New lot' }).waitFor();
    const parts = elsewhere.getByRole('group', { name: 'Made from' });
    expect(await field(parts, 'From').nth(0).inputValue()).toBe(`lot:${first.id}`);
    expect(await field(parts, 'From').nth(1).inputValue()).toBe(`lot:${second.id}`);
    expect(await field(parts, 'Dry mass taken').nth(1).inputValue()).toBe('10.5');
    await fillIn(elsewhere, { Code: 'BL-1', 'Wet mass': '32', Moisture: '4.5' });
    await press(elsewhere, 'Enter this lot');
    await elsewhere.getByRole('heading', { level: 1, name: 'Lot BL-1' }).waitFor();
    const after = await ask('GET', `/lots/${second.id}`);
    expect(Number(after.leftKg)).toBeCloseTo(Number(second.leftKg) - 10.5, 9);
  });

  it('say that a blend takes more than is left, and offer no lot of it', async () => {
    const [first, second] = (await ask('GET', '/lots')).filter(
      (lot: { leftKg: string }) => Number(lot.leftKg) > 30,
    );
    const page = await openTab();
    await page.goto(`/decide?lot=${first.id}&mass=20&with=${second.id}:99999`);
    await page.getByText(`The blend takes 100,000 kg of ${second.code}, but only`).waitFor();
    await standing(page);
    expect(await page.getByRole('link', { name: 'Make it a lot' }).count()).toBe(0);
  });

  it('say what cannot be read of a what-if, and answer once it is mended', async () => {
    const [lot] = await ask('GET', '/lots');
    const page = await openTab();
    await page.goto(`/decide?lot=${lot.id}&gold=abc`);
    await page.getByText('cannot be read as a number').waitFor();
    await field(page, 'Gold price').fill('2500');
    await page.getByRole('table', { name: 'Options side by side' }).waitFor();
    expect(await page.getByText('cannot be read as a number').count()).toBe(0);
  });

  it('change a plan that is not begun, and keep the earlier one beside it', async () => {
    const [lot] = (await ask('GET', '/lots')).filter((one: { leftKg: string }) => Number(one.leftKg) > 60);
    const page = await openTab();
    await page.goto(`/decide?lot=${lot.id}`);
    await standing(page);
    await page
      .getByRole('link', { name: /^Plan a batch/ })
      .first()
      .click();
    await page.getByRole('heading', { level: 1, name: 'Plan a batch' }).waitFor();
    await fillIn(page, { Code: 'CP-1', 'Dry mass taken': '30' });
    await press(page, 'Plan this batch');
    await page.getByRole('heading', { level: 1, name: 'Batch CP-1' }).waitFor();

    await unfold(page, 'Change the plan');
    const form = page.getByRole('form', { name: 'Change the plan' });
    await field(form, 'Dry mass taken').fill('99999');
    await press(form, 'Change the plan');
    await form.getByText(`lot ${lot.code} has only`).first().waitFor();
    await field(form, 'Dry mass taken').fill('24');
    await press(form, 'Change the plan');
    const earlier = page.getByRole('table', { name: 'Earlier plans of this batch, superseded' });
    await earlier.waitFor();
    expect(await textOf(earlier)).toContain('30 kg');
    expect(await pageText(page)).toContain('Dry mass 24 kg');
    expect(Number((await ask('GET', `/lots/${lot.id}`)).leftKg)).toBeCloseTo(Number(lot.leftKg) - 24, 9);
  });

  it('tell the season in grams where the owner weighs in grams', async () => {
    const page = await openTab();
    await page.goto('/season');
    const metal = page.getByRole('table', { name: /^Gold and silver of each batch/ });
    await metal.waitFor();
    expect(await textOf(metal)).toContain('troy ounces');
    const ofRow = async (): Promise<number> => {
      const cells = await metal.getByRole('row').filter({ hasText: 'Gold in all' }).allInnerTexts();
      return Number(/Gold in all\s+([\d.,]+)/.exec(cells.join(' '))?.[1]?.replaceAll(',', ''));
    };
    const ounces = await ofRow();
    const mill = await ask('GET', '/mill');
    await ask('PUT', '/mill', { ...mill, metalUnit: 'g' });
    await page.reload();
    await page.getByRole('table', { name: /^Gold and silver of each batch, g/ }).waitFor();
    const grams = await ofRow();
    // One troy ounce is 31.1034768 g; both are rounded as they print.
    expect(grams / ounces).toBeCloseTo(31.1034768, 1);
  });
});
