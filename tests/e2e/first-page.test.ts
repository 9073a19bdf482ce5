import { afterAll, beforeAll, expect, it } from 'vitest';
import { describeInBrowser } from '../support/browser.ts';
import { startPoursheet, type RunningPoursheet } from '../support/running-poursheet.ts';

describeInBrowser('the first page', (browser) => {
  let poursheet: RunningPoursheet;
  beforeAll(async () => {
    poursheet = await startPoursheet();
  });
  afterAll(async () => {
    await poursheet.stop();
  });

  it('comes up under its own content security policy, without a complaint in the console', async () => {
    const page = await browser().newPage();
    const complaints: string[] = [];
    page.on('console', (message) => {
      if (message.type() === 'error' || message.type() === 'warning') complaints.push(message.text());
    });
    page.on('pageerror', (error) => complaints.push(String(error)));
    page.on('requestfailed', (request) => complaints.push(`${request.method()} ${request.url()} failed`));
    const answer = await page.goto(poursheet.url, { waitUntil: 'networkidle' });
    expect(answer?.headers()['content-security-policy']).toContain("script-src 'self'");
    await page.getByRole('main').waitFor();
    expect(await page.title()).toContain('Poursheet');
    expect(complaints).toEqual([]);
    await page.close();
  });
});
