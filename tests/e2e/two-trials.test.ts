import type { Page } from 'playwright-core';
import { expect, it } from 'vitest';
import { describeWithPoursheet, phone } from './with-poursheet.ts';

/** Invented notes: trial, test, sample g, bead mg, parted gold mg. */
const notes = [
  ['Raw', '100.0', '58.41', '12.92'],
  ['Raw', '100.1', '55.9', '12.1'],
  ['Raw', '99.9', '60.2', '13.6'],
  ['Roasted', '100.0', '66.0', '15.2'],
  ['Roasted', '100.2', '64.4', '14.5'],
  ['Roasted', '100.0', '67.9', '15.9'],
] as const;

const mainText = (page: Page): Promise<string> => page.locator('main').innerText();

describeWithPoursheet('two trials from paper notes on a phone', { empty: true }, ({ openTab, ask }) => {
  it('are entered with their new trial and balance, compared, and say what the lot holds', async () => {
    const page = await openTab({ viewport: phone });
    await page.goto('/lots/new');
    await page.getByLabel('Code').fill('P-7');
    await page.getByLabel(/^Wet mass/).fill('180');
    await page.getByLabel(/^Moisture/).fill('6');
    await page.getByRole('button', { name: 'Enter this lot' }).click();
    await page.waitForURL(/\/lots\/[0-9a-f-]{36}$/);
    const lotPage = page.url();
    let earlier = '';
    for (const [place, [trial, sampleG, beadMg, goldMg]] of notes.entries()) {
      await page.goto(lotPage);
      const again = trial === earlier;
      const link = again ? `New test smelt in ${trial}` : 'New test smelt';
      await page.getByRole('link', { name: link, exact: true }).click();
      if (!again) {
        if (place > 0) await page.getByLabel('Trial', { exact: false }).first().selectOption('new');
        await page.getByLabel('Name of the trial').fill(trial);
      }
      if (place === 0) {
        await page.getByLabel('Name of the balance').fill('Bench scale');
        await page.getByLabel(/^Readability/).fill('0.0001');
        await page.getByLabel(/^Repeatability/).fill('0.0001');
      }
      await page.getByLabel(/^Sample mass/).fill(sampleG);
      await page.getByLabel('Bead, mg').fill(beadMg);
      await page.getByLabel(/^Parted gold/).fill(goldMg);
      await page.getByRole('button', { name: 'Save the test smelt' }).click();
      await page.waitForURL(/\/test-smelts\/[0-9a-f-]{36}$/);
      earlier = trial;
    }
    await page.getByText('15.9 mg on Bench scale').first().waitFor();
    await page.goto(lotPage);
    // Gold by hand, g/t: 129.2, 120.88, 136.14 and 152, 144.71, 159; Welch's t 3.84, so beyond chance.
    await page.getByText('Proven: Roasted gave 23.2 g/t more gold than Raw').waitFor();
    await page.getByText('True grade of P-7, dry').waitFor();
    const text = await mainText(page);
    expect(text).toContain('Welch');
    expect(text).toMatch(/± 10 % of gold takes about 1\d0 g for each test/);
    expect(text).toContain('recovery is known only relative to the best test');
  });

  it('leave nothing behind where the test is refused', async () => {
    const [lot] = await ask('GET', '/lots');
    const page = await openTab({ viewport: phone });
    await page.goto(`/test-smelts/new?lot=${lot.id}`);
    await page.getByLabel('Trial', { exact: false }).first().selectOption('new');
    await page.getByLabel('Name of the trial').fill('Raw');
    await page.getByLabel(/^Sample mass/).fill('100');
    await page.getByRole('button', { name: 'Save the test smelt' }).click();
    await page.getByRole('alert').getByText('There is one called “Raw” already').waitFor();
    expect(await ask('GET', '/trials')).toHaveLength(2);
    expect(await ask('GET', '/balances')).toHaveLength(1);
  });
});
