import { afterAll, beforeAll, expect, it } from 'vitest';
import type { Page } from 'playwright-core';
import { describeInBrowser } from '../support/browser.ts';
import { startPoursheet, type RunningPoursheet } from '../support/running-poursheet.ts';

describeInBrowser('the furnace bench of a new mill, on a phone', (browser) => {
  let poursheet: RunningPoursheet;
  let page: Page;
  beforeAll(async () => {
    poursheet = await startPoursheet({ empty: true });
    page = await browser().newPage({ viewport: { width: 360, height: 740 } });
    page.setDefaultTimeout(30_000);
  });
  afterAll(async () => {
    await page.close();
    await poursheet.stop();
  });

  const field = (label: string) => page.getByLabel(label).first();
  const read = async <Answer>(path: string): Promise<Answer> => {
    const answer = await page.request.get(`${poursheet.url}/api${path}`);
    return answer.json() as Promise<Answer>;
  };

  it('takes a lot, and says in the field what cannot be read', async () => {
    await page.goto(`${poursheet.url}/lots`);
    await page.getByRole('link', { name: 'Enter the first lot' }).click();
    await field('Code').fill('L-1');
    await field('Wet mass').fill('1,240.5');
    await field('Moisture').fill('10');
    await page.getByRole('button', { name: 'Enter this lot' }).click();
    await page.getByRole('alert').getByText('it is not clear whether').waitFor();
    await field('Wet mass').fill('200');
    await page.getByText('Dry mass: 180 kg.').waitFor();
    const [season] = await read<{ startsOn: string }[]>('/seasons');
    await field('Made on').fill(season?.startsOn ?? '');
    await page.getByRole('button', { name: 'Enter this lot' }).click();
    await page.getByRole('heading', { name: 'Lot L-1' }).waitFor();
  });

  it('warns while the sample is still on the bench, and keeps what is typed', async () => {
    await page.getByRole('link', { name: 'New test smelt', exact: true }).click();
    await field('Name of the trial').fill('As it is');
    await field('Sample mass').fill('100');
    await field('Name of the balance').fill('Bench scale');
    await field('Readability').fill('0.01');
    await field('Repeatability').fill('0.01');
    await field('Collector lead').fill('40');
    await field('Crucible volume').fill('80');
    await page.getByRole('button', { name: 'Add reagent' }).click();
    await field('Name of the reagent').fill('Soda ash');
    await page.locator('.rows-field-row input').first().fill('60');
    await page.getByText('The charge would fill the crucible of 80 mL').waitFor();
    await expect.poll(() => page.evaluate(() => JSON.stringify(window.localStorage))).toContain('Soda ash');
    await page.reload();
    await page.getByText('restored').waitFor();
    expect(await field('Sample mass').inputValue()).toBe('100');
  });

  it('refuses a bead heavier than its button, and enters nothing twice', async () => {
    await field('Crucible volume').fill('300');
    await page.getByLabel('Button, g').fill('38');
    await page.getByLabel('Bead, mg').fill('38400');
    await page.getByText('is heavier than the button').waitFor();
    await page.getByRole('button', { name: 'Save the test smelt' }).click();
    await page.getByRole('alert').getByText('beads are in milligrams').waitFor();
    await page.getByLabel('Bead, mg').fill('384');
    await page.getByLabel('Parted gold').fill('84');
    await page.getByRole('region', { name: 'Result so far' }).getByText('840').waitFor();
    await page.getByRole('button', { name: 'Save the test smelt' }).click();
    await page.getByRole('heading', { name: 'Test 1, As it is' }).waitFor();
    expect(await read<object[]>('/balances')).toHaveLength(1);
    expect(await read<object[]>('/supplies')).toHaveLength(1);
    expect(await read<{ smelts: object[] }[]>('/trials')).toMatchObject([{ smelts: [{ beadMg: 384 }] }]);
  });

  it('sets the test aside with a reason, in sight, and takes it back', async () => {
    await page.getByRole('button', { name: 'Set it aside' }).click();
    await page.getByRole('alert').waitFor();
    await field('Why it does not count').fill('Boiled over');
    await page.getByRole('button', { name: 'Set it aside' }).click();
    await page.getByText('Set aside, so it does not count: Boiled over').waitFor();
    await page.goto(`${poursheet.url}/test-smelts`);
    await page.getByText('Set aside, does not count: Boiled over').waitFor();
    await page.getByRole('link', { name: 'Test 1' }).click();
    await page.getByRole('button', { name: /Take it back/ }).click();
    await page.getByText('The test counts.').waitFor();
  });

  it('says what the lot holds from that one test, and that treatments cannot be compared yet', async () => {
    await page.getByRole('link', { name: 'L-1' }).click();
    await page.getByText('True grade of L-1, dry').waitFor();
    await page.getByText('With tests in two trials, the two can be compared here.').waitFor();
  });
});
