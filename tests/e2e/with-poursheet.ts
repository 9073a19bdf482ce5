import type { Browser, BrowserContextOptions, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, expect } from 'vitest';
import { describeInBrowser } from '../support/browser.ts';
import { startPoursheet, type RunningPoursheet } from '../support/running-poursheet.ts';

export const phone = { width: 360, height: 740 };
export const laptop = { width: 1280, height: 900 };

/** A running Poursheet as a test meets it. */
export interface Mill {
  /** A tab of a browser profile of its own, with nothing kept in it; addresses in it start at `/`. Closed after the test. */
  openTab: (options?: BrowserContextOptions) => Promise<Page>;
  /** What went wrong on the console or the network since it was last asked; nothing may be left after a test. */
  takeComplaints: () => string[];
  /** Asks or tells the API, where a test is not about the page that does the same. */
  // Tests read answers as a stranger would, without the program's own types.
  // oxlint-disable-next-line typescript/no-explicit-any
  ask: (method: string, path: string, body?: unknown) => Promise<any>;
}

/** Runs tests in a browser on a Poursheet of their own, with the demo season or empty. */
export function describeWithPoursheet(
  name: string,
  options: { empty: boolean },
  body: (mill: Mill) => void,
): void {
  describeInBrowser(name, (browser) => {
    let running: RunningPoursheet | undefined;
    let complaints: string[] = [];
    const opened: Page[] = [];
    const baseUrl = (): string => {
      if (running === undefined) throw new Error('Poursheet starts before the first test, not earlier.');
      return running.url;
    };
    beforeAll(async () => {
      running = await startPoursheet(options);
    });
    afterAll(async () => {
      await running?.stop();
    });
    afterEach(async () => {
      for (const page of opened.splice(0)) await page.context().close();
      // That the server refuses what was typed is no fault; the browser notes it all the same.
      const faults = complaints.filter((text) => !/responded with a status of (409|412|422)/.test(text));
      complaints = [];
      expect(faults, 'on the console or the network').toEqual([]);
    });
    body({
      openTab: async (tabOptions) => {
        const page = await openTab(browser(), complaints, { baseURL: baseUrl(), ...tabOptions });
        opened.push(page);
        return page;
      },
      takeComplaints: () => complaints.splice(0),
      ask: async (method, path, sent) => {
        const answer = await fetch(`${baseUrl()}/api${path}`, {
          method,
          ...(sent === undefined
            ? {}
            : { headers: { 'content-type': 'application/json' }, body: JSON.stringify(sent) }),
        });
        const text = await answer.text();
        if (!answer.ok) throw new Error(`${method} ${path} gave ${answer.status}: ${text}`);
        return text === '' ? null : JSON.parse(text);
      },
    });
  });
}

async function openTab(
  browser: Browser,
  complaints: string[],
  options?: BrowserContextOptions,
): Promise<Page> {
  const context = await browser.newContext({ viewport: laptop, ...options });
  context.setDefaultTimeout(30_000);
  context.on('console', (message) => {
    if (message.type() === 'error' || message.type() === 'warning') complaints.push(message.text());
  });
  context.on('weberror', (error) => complaints.push(String(error.error())));
  context.on('requestfailed', (request) => {
    const why = request.failure()?.errorText ?? '';
    // Leaving a page drops what it still asked for.
    if (why !== 'net::ERR_ABORTED') complaints.push(`${request.method()} ${request.url()}: ${why}`);
  });
  return context.newPage();
}
