import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { filesInZip } from '../support/zip-reader.ts';
import { describeWithPoursheet, phone } from './with-poursheet.ts';

describeWithPoursheet('the accountant’s download', { empty: false }, (mill) => {
  it('says how many of its files have come while they come, and saves all of them', async () => {
    const page = await mill.openTab({ viewport: phone });
    await page.goto('/season');
    const button = page.getByRole('button', { name: 'Download for the accountant (ZIP)' });
    await button.waitFor();
    await page.evaluate(() => {
      const seen = new Set<string>();
      Object.assign(globalThis, { seen });
      new MutationObserver(() => {
        for (const busy of document.querySelectorAll('.busy')) seen.add(busy.textContent ?? '');
      }).observe(document.body, { subtree: true, childList: true, characterData: true });
    });
    const saved = page.waitForEvent('download');
    await button.click();
    const path = await (await saved).path();
    const files = filesInZip(readFileSync(path)).length;
    const seen = await page.evaluate(() => [...(globalThis as unknown as { seen: Set<string> }).seen]);
    const counts = seen.flatMap((text) => /(\d+) of (\d+) files/.exec(text)?.slice(1).map(Number) ?? []);
    expect(seen.join(' ')).toContain('Making the accountant’s files');
    expect(counts.length).toBeGreaterThan(2);
    expect(new Set(counts.filter((_, at) => at % 2 === 1))).toEqual(new Set([files]));
    await page.getByText('The files were saved as').waitFor();
  });
});
