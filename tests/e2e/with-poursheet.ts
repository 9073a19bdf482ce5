import type { Browser, BrowserContextOptions, Locator, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, expect } from 'vitest';
import { describeInBrowser } from '../support/browser.ts';
import { startPoursheet, type RunningPoursheet } from '../support/running-poursheet.ts';

export const phone = { width: 360, height: 740 };
export const laptop = { width: 1280, height: 900 };

/** A running Poursheet as a test meets it. */
export interface Mill {
  /** Where an address of it is, for example `/lots`. */
  at: (address: string) => string;
  /** A tab of a browser profile of its own, with nothing kept in it; closed after the test. */
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
    const at: Mill['at'] = (address) => {
      if (running === undefined) throw new Error('Poursheet starts before the first test, not earlier.');
      return `${running.url}${address}`;
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
      const faults = complaints.filter((text) => !/responded with a status of (409|422)/.test(text));
      complaints = [];
      expect(faults, 'on the console or the network').toEqual([]);
    });
    body({
      at,
      openTab: async (tabOptions) => {
        const page = await openTab(browser(), complaints, tabOptions);
        opened.push(page);
        return page;
      },
      takeComplaints: () => complaints.splice(0),
      ask: async (method, path, sent) => {
        const answer = await fetch(at(`/api${path}`), {
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

/** Waits until a page stands as a whole: its heading is there and nothing is still being loaded or worked. */
export async function standing(page: Page): Promise<void> {
  await page.getByRole('heading', { level: 1 }).waitFor();
  await page.waitForFunction(() => document.querySelector('progress, [aria-busy="true"]') === null);
}

/** What stands in a place, once it is there: spaces that do not break and line breaks made plain. */
export async function textOf(place: Locator): Promise<string> {
  return (await place.innerText()).replaceAll(/\s+/g, ' ').trim();
}

/** The field with a label, whatever its unit, and whether it must be filled. */
export function field(place: Page | Locator, label: string): Locator {
  const words = label.replaceAll(/[.*+?^${}()|[\]\\]/g, String.raw`\$&`);
  return place.getByLabel(new RegExp(`^${words}(?:$|, | \\()`));
}

/** What a screen reader says of a field beside its label: hint and error. */
export async function descriptionOf(control: Locator): Promise<string> {
  const description = await control.evaluate((element) =>
    (element.getAttribute('aria-describedby') ?? '')
      .split(' ')
      .map((id) => document.getElementById(id)?.textContent ?? '')
      .join(' '),
  );
  return description.replaceAll(/\s+/g, ' ').trim();
}

/** Fills fields by their labels: a choice by what it is called, everything else by typing. */
export async function fillIn(place: Page | Locator, values: Record<string, string>): Promise<void> {
  for (const [label, value] of Object.entries(values)) {
    const control = field(place, label);
    const isChoice = await control.evaluate((element) => element instanceof HTMLSelectElement);
    if (isChoice) await control.selectOption({ label: value });
    else await control.fill(value);
  }
}
