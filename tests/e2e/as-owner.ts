import type { Locator, Page } from 'playwright-core';

/** What an owner does with a page and sees of it, in the words that stand there. */

/** Presses a button. */
export const press = (place: Page | Locator, name: string): Promise<void> =>
  place.getByRole('button', { name, exact: true }).click();

/** Follows a link. */
export const follow = (place: Page | Locator, name: string | RegExp): Promise<void> =>
  place.getByRole('link', { name, exact: typeof name === 'string' }).click();

/** Unfolds what is folded under a summary. */
export const unfold = (page: Page, summary: string): Promise<void> =>
  page.locator('summary').filter({ hasText: summary }).click();

/** Waits until a page stands as a whole: its heading is there and nothing is still being loaded or worked. */
export async function standing(page: Page): Promise<void> {
  await page.getByRole('heading', { level: 1 }).waitFor();
  await page.waitForFunction(() => document.querySelector('progress, [aria-busy="true"]') === null);
}

/** Waits for the page with a heading. */
export async function arrivedAt(page: Page, heading: string): Promise<void> {
  await page.getByRole('heading', { level: 1, name: heading, exact: true }).waitFor();
  await standing(page);
}

/** Goes to a page by the contents. */
export async function goTo(page: Page, name: string): Promise<void> {
  await follow(page.getByRole('navigation', { name: 'Contents' }), name);
  await arrivedAt(page, name);
}

/** The field with a label, whatever its unit, and whether it must be filled. */
export function field(place: Page | Locator, label: string): Locator {
  const words = label.replaceAll(/[.*+?^${}()|[\]\\]/g, String.raw`\$&`);
  return place.getByLabel(new RegExp(`^${words}(?:$|, | \\()`));
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

const plainSpaces = (text: string): string => text.replaceAll(/\s+/g, ' ').trim();

/** What stands in a place, once it is there: spaces that do not break and line breaks made plain. */
export const textOf = async (place: Locator): Promise<string> => plainSpaces(await place.innerText());

/** What stands on the page beside the contents. */
export const pageText = (page: Page): Promise<string> => textOf(page.getByRole('main'));

/** What a screen reader says of a field beside its label: hint and error. */
export async function descriptionOf(control: Locator): Promise<string> {
  return plainSpaces(
    await control.evaluate((element) =>
      (element.getAttribute('aria-describedby') ?? '')
        .split(' ')
        .map((id) => document.getElementById(id)?.textContent ?? '')
        .join(' '),
    ),
  );
}
