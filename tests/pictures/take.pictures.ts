import { execFileSync } from 'node:child_process';
import { mkdtempSync, renameSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, it } from 'vitest';
import { describeInBrowser } from '../support/browser.ts';
import { startPoursheet, type RunningPoursheet } from '../support/running-poursheet.ts';

/** Takes the README's pictures from the running program and its invented demo season: `npm run pictures`. */
const FOLDER = import.meta.dirname;

interface Named {
  id: string;
  code?: string;
  number?: string;
  counterpartyName?: string;
}

describeInBrowser('the pictures of the README', (browser) => {
  let mill: RunningPoursheet;
  beforeAll(async () => {
    mill = await startPoursheet();
  });
  afterAll(async () => {
    await mill.stop();
  });

  const list = async (path: string): Promise<Named[]> =>
    (await (await fetch(`${mill.url}/api/${path}`)).json()) as Named[];
  const idOf = async (path: string, is: (one: Named) => boolean): Promise<string> => {
    const found = (await list(path)).find(is);
    if (found === undefined) throw new Error(`the demo lacks what is to be pictured in ${path}`);
    return found.id;
  };

  async function picture(
    name: string,
    path: string,
    options: { width?: number; height: number; before?: (page: Page) => Promise<void> },
  ): Promise<void> {
    const page = await browser().newPage({
      viewport: { width: options.width ?? 1180, height: options.height },
      colorScheme: 'light',
    });
    await page.goto(`${mill.url}${path}`, { waitUntil: 'networkidle' });
    await page.getByRole('heading', { level: 1 }).waitFor();
    await options.before?.(page);
    await page.screenshot({ path: join(FOLDER, `${name}.png`) });
    await page.close();
  }

  async function printed(name: string, path: string): Promise<void> {
    const folder = mkdtempSync(join(tmpdir(), 'poursheet-pictures-'));
    const pdf = join(folder, 'document.pdf');
    writeFileSync(pdf, new Uint8Array(await (await fetch(`${mill.url}${path}`)).arrayBuffer()));
    execFileSync('pdftoppm', [
      '-r',
      '80',
      '-png',
      '-f',
      '1',
      '-l',
      '1',
      '-singlefile',
      pdf,
      join(folder, name),
    ]);
    renameSync(join(folder, `${name}.png`), join(FOLDER, `${name}.png`));
  }

  it('are taken', async () => {
    const lot = await idOf('lots', (one) => one.code === 'L-01');
    await picture('test-smelt-phone', `/test-smelts/new?lot=${lot}`, { width: 360, height: 740 });
    await picture('lot', `/lots/${lot}`, {
      height: 1000,
      before: async (page) => {
        await page.getByText('Recovered from L-01 by trial').first().waitFor();
        await page
          .getByRole('heading', { name: 'Trials and test smelts' })
          .evaluate((heading) => heading.scrollIntoView());
      },
    });
    await picture('decide', `/decide?lot=${lot}`, {
      height: 1000,
      before: async (page) => {
        await page.getByRole('table', { name: 'Options side by side' }).waitFor();
      },
    });
    const batch = await idOf('batches', (one) => one.code === 'B-01');
    await picture('batch', `/batches/${batch}`, { height: 720 });
    const terms = await idOf('terms', (one) => one.counterpartyName?.startsWith('Brackenmoor') === true);
    await picture('terms', `/terms/${terms}`, { height: 820 });
    const statement = await idOf('statements', (one) => one.number === 'S-0002');
    await printed('statement', `/api/statements/${statement}/statement.pdf`);
    const [season] = await list('seasons');
    await printed('season', `/api/seasons/${season?.id}/summary.pdf`);
    await printed('month', '/api/months/2026-07/report.pdf');
  });
});
