import { existsSync } from 'node:fs';
import { delimiter, join } from 'node:path';
import { chromium, type Browser } from 'playwright-core';
import { afterAll, beforeAll, describe } from 'vitest';

const macApplications = [
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
];

/** The browser of this machine: CHROME_PATH, else a Chromium or Chrome on the PATH or in the usual place. */
function browserPath(): string | undefined {
  const named = process.env['CHROME_PATH'];
  if (named !== undefined && named !== '') {
    if (!existsSync(named)) throw new Error(`CHROME_PATH is ${named}, where no file is.`);
    return named;
  }
  const folders = (process.env['PATH'] ?? '').split(delimiter).filter((folder) => folder !== '');
  return ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable']
    .flatMap((name) => folders.map((folder) => join(folder, name)))
    .concat(macApplications)
    .find((path) => existsSync(path));
}

async function launchBrowser(executablePath: string): Promise<Browser> {
  return chromium.launch({
    executablePath,
    args: [
      ...(process.getuid?.() === 0 ? ['--no-sandbox'] : []),
      '--disable-gpu',
      '--disable-quic',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
    ],
  });
}

/** Runs tests in a real browser; where there is none they are left out and say why, on a build server they fail. */
export function describeInBrowser(name: string, body: (browser: () => Browser) => void): void {
  const path = browserPath();
  if (path === undefined && process.env['CI'] === 'true')
    throw new Error('In CI the pages must be tested in Chromium: install it or set CHROME_PATH.');
  const title = path === undefined ? `${name} (no Chromium or Chrome found; set CHROME_PATH)` : name;
  describe.skipIf(path === undefined)(title, () => {
    let browser: Browser | undefined;
    beforeAll(async () => {
      browser = await launchBrowser(path ?? '');
    });
    afterAll(async () => {
      await browser?.close();
    });
    body(() => {
      if (browser === undefined) throw new Error('The browser starts before the first test, not earlier.');
      return browser;
    });
  });
}
