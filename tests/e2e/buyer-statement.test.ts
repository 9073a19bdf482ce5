import axe from 'axe-core';
import type { Page } from 'playwright-core';
import { expect, it } from 'vitest';
import { fillIn, press, standing, unfold } from './as-owner.ts';
import { describeWithPoursheet, laptop, phone } from './with-poursheet.ts';

interface Line {
  id: string;
  label: string;
  amount: string | null;
}

describeWithPoursheet('a buyer’s statement held against ours', { empty: false }, ({ openTab, ask }) => {
  /** The final statement of the demo, and the buyer's table of it: the same but for 25.00 more taken for one charge. */
  async function theirs() {
    const [ours] = (await ask('GET', '/statements')).filter(
      ({ stage }: { stage: string }) => stage === 'final',
    );
    const { settlement, total } = await ask('GET', `/statements/${ours.id}`);
    const lines = (settlement.lines as Line[]).filter(({ amount }) => amount !== null);
    const charge = lines.find(({ id }) => id.startsWith('charges/'));
    if (charge === undefined) throw new Error('The final statement of the demo has no charge.');
    const less = (amount: string | null) => (Number(amount) - 25).toFixed(2);
    const rows = lines.map((line) => [line.label, line === charge ? less(line.amount) : line.amount]);
    const table = [['label', 'amount'], ...rows, ['total', less(total)]]
      .map((cells) => cells.map((cell) => `"${cell}"`).join(','))
      .join('\n');
    return { ours, table, charge };
  }

  it('is taken from a table, kept, and says by how much and where it differs', async () => {
    const { ours, table, charge } = await theirs();
    const page = await openTab({ viewport: laptop, reducedMotion: 'reduce' });
    await page.goto(`/settlements/${ours.id}/buyer`);
    await standing(page);
    await unfold(page, 'Take their lines from a table');
    await page.getByLabel('Pasted table').fill(table);
    await press(page, 'Read the pasted table');
    await press(page, 'Put these lines in, in place of what is typed');
    await fillIn(page, { 'Their number': '4711', Dated: '2026-08-20' });
    const comparison = page.locator('section.comparison');
    await comparison.getByText('25.00').first().waitFor();
    await comparison.getByText(charge.label).first().waitFor();
    expect(await soundness(page)).toEqual([]);
    await press(page, 'Keep their statement');
    await page.getByRole('link', { name: 'Report to print and send (PDF)' }).waitFor();
    const pdf = await page.request.get(
      (await page.getByRole('link', { name: 'Report to print and send (PDF)' }).getAttribute('href')) ?? '',
    );
    expect(pdf.headers()['content-type']).toBe('application/pdf');
  });

  it('is paid in part, and says what is open', async () => {
    const { ours } = await theirs();
    const page = await openTab({ viewport: phone, reducedMotion: 'reduce' });
    await page.goto(`/settlements/${ours.id}`);
    await standing(page);
    await unfold(page, 'Enter a payment');
    await fillIn(page, { Amount: '100.25', Reference: 'transfer 7' });
    await press(page, 'Keep the payment');
    await page.getByText('transfer 7').waitFor();
    expect(await soundness(page)).toEqual([]);
    await page.goto('/settlements');
    await standing(page);
    await page.getByText(/of it/).first().waitFor();
  });
});

/** What axe-core calls serious or critical, and pages wider than the window: phone and laptop, by day and by night. */
async function soundness(page: Page): Promise<string[]> {
  await page.evaluate(axe.source);
  const faults: string[] = [];
  for (const size of [phone, laptop])
    for (const colorScheme of ['light', 'dark'] as const) {
      await page.setViewportSize(size);
      await page.emulateMedia({ colorScheme });
      await standing(page);
      const { violations } = await page.evaluate(() =>
        (globalThis as unknown as { axe: typeof axe }).axe.run(document, { resultTypes: ['violations'] }),
      );
      const grave = violations.filter(({ impact }) => impact === 'serious' || impact === 'critical');
      faults.push(...grave.map(({ id }) => `${size.width} ${colorScheme} ${id}`));
      const width = await page.evaluate(() => document.scrollingElement?.scrollWidth ?? 0);
      if (width > size.width) faults.push(`${size.width} ${colorScheme}: ${width} px wide`);
    }
  return faults;
}
