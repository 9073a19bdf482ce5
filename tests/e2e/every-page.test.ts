import axe from 'axe-core';
import type { Page } from 'playwright-core';
import { expect, it } from 'vitest';
import type { SettlementLine } from '../../api/calc/settlement/statement.ts';
import type { QuotedOption } from '../../api/calc/terms/metal-terms.ts';
import type { Terms } from '../../api/calc/terms/terms.ts';
import { createPages } from '../../web/router.tsx';
import { standing } from './as-owner.ts';
import { describeWithPoursheet, laptop, phone, type Mill } from './with-poursheet.ts';

/** Entered once, by the first page that is looked at. */
let entered: Promise<{ termsId: string; statementId: string }> | null = null;

/** The ids of the records whose pages are looked at, by the name that addresses give them. */
async function recordsOf(mill: Mill): Promise<Record<string, string[]>> {
  const { ask } = mill;
  const asked = [
    'lots',
    'trials',
    'batches',
    'terms',
    'treatments',
    'statements',
    'supplies',
    'counterparties',
    'balances',
    'decisions',
    'days',
    'shipments',
  ];
  const found = await Promise.all(asked.map((records) => ask('GET', `/${records}`)));
  const [
    lots,
    trials,
    batches,
    terms,
    treatments,
    statements,
    supplies,
    counterparties,
    balances,
    decisions,
    days,
    shipments,
  ] = found;
  const ids = (records: { id: string }[]): string[] => records.map(({ id }) => id);
  const further = await (entered ??= enterFurther(mill));
  const firstOf = (id: string, others: string[]) => [id, ...others.filter((other) => other !== id)];
  return {
    lotId: ids(lots),
    trialId: ids(trials),
    smeltId: ids(trials.flatMap((trial: { smelts: { id: string }[] }) => trial.smelts)),
    decisionId: ids(decisions),
    batchId: ids(batches),
    productId: ids(batches.flatMap((batch: { products: { id: string }[] }) => batch.products)),
    termsId: firstOf(further.termsId, ids(terms)),
    treatmentId: ids(treatments),
    statementId: firstOf(further.statementId, ids(statements)),
    supplyId: ids(supplies),
    counterpartyId: ids(counterparties),
    balanceId: ids(balances),
    dayId: ids(days).slice(-1),
    shipmentId: ids(shipments),
    // One in which batches were finished and settled, one of only days, one not over.
    month: ['2026-07', '2026-05', '2026-10'],
  };
}

/**
 * What the demo season does not have: terms with the clauses of a few buyers, as a new contract of the smelter,
 * and a buyer's statement that differs from ours in several lines.
 */
async function enterFurther({ ask }: Mill): Promise<{ termsId: string; statementId: string }> {
  const smelter = (await ask('GET', '/terms')).find(
    ({ material }: { material: string }) => material === 'concentrate',
  );
  const { body, counterpartyId } = await ask('GET', `/terms/${smelter.id}`);
  const { id: termsId } = await ask('POST', '/terms', {
    counterpartyId,
    name: 'With further clauses',
    validFrom: '2030-01-01',
    body: withFurtherClauses(body),
  });
  const ours = (await ask('GET', '/statements')).find(({ stage }: { stage: string }) => stage === 'final');
  const { settlement, total } = await ask('GET', `/statements/${ours.id}`);
  const money = settlement.lines.filter(({ amount }: SettlementLine) => amount !== null) as SettlementLine[];
  const less = (amount: string | null, by: number) => (Number(amount) - by).toFixed(2);
  await ask('POST', '/buyer-statements', {
    statementId: ours.id,
    number: 'B-1',
    datedOn: '2026-08-20',
    lines: money.map(({ id, label, amount }, index) => ({
      label,
      lineId: id,
      amount: index < 3 ? less(amount, 10 + index) : amount,
    })),
    total: less(total, 33),
  });
  return { termsId, statementId: ours.id as string };
}

const option = (source: string, monthsAfter: number, paidFrac: string): QuotedOption => ({
  kind: 'quotations',
  source,
  period: { kind: 'calendar-month', event: 'arrival', monthsAfter },
  provisional: { kind: 'latest' },
  paidFrac,
});

function withFurtherClauses(terms: Terms): Terms {
  const [gold, silver] = terms.metals;
  if (gold === undefined || silver === undefined)
    throw new Error('The demo’s smelter pays for gold and silver.');
  const { basis, unit } = { basis: 'wet' as const, unit: 'tonne' as const };
  return {
    ...terms,
    metals: [
      {
        ...gold,
        minimumDeduction: '1',
        form: {
          kind: 'steps',
          by: silver.metal,
          steps: [{ fromGrade: '0', form: { kind: 'percent-then-unit', paidFrac: '0.94', deduction: '0' } }],
        },
        price: {
          ...gold.price,
          basis: {
            kind: 'choice',
            rule: 'lowest',
            options: [
              option('invented morning price', 0, '1'),
              option('invented afternoon price', 1, '0.98'),
            ],
          },
          floor: '900',
          cap: '4000',
        },
      },
      {
        ...silver,
        form: {
          kind: 'sliding',
          form: { kind: 'unit-then-percent', paidFrac: '0.90', deduction: '30' },
          slides: 'paidFrac',
          by: null,
          fromGrade: '500',
          step: '100',
          change: '0.005',
          counting: 'pro-rata',
          minimum: '0.80',
          maximum: '0.95',
        },
        refining: null,
        price: {
          ...silver.price,
          unit: 'g',
          basis: {
            kind: 'by-grade',
            steps: [
              { fromGrade: '100', price: '0.50' },
              { fromGrade: '500', price: '0.70' },
            ],
          },
        },
      },
    ],
    charges: [
      {
        kind: 'by-level',
        purpose: 'treatment',
        name: 'Treatment charge',
        currency: null,
        level: { kind: 'mass', basis, unit },
        ladder: {
          kind: 'bracket',
          brackets: [
            { from: '0', reachedAt: 'level', rate: '320' },
            { from: '10', reachedAt: 'above', rate: '260' },
          ],
        },
        basis,
        unit,
        minimum: '100',
      },
    ],
    taxes: [
      {
        name: 'Withholding tax',
        rateFrac: '0.02',
        base: { kind: 'net-value' },
        effect: 'deducted',
        isPassedOn: false,
      },
    ],
  };
}

/** Pages that show something else when their address asks for more. */
const askedAbout: Record<string, string[]> = {
  '/test-smelts/new': ['lot=$lotId', 'trial=$trialId'],
  '/treatments/new': ['from=dead-roast', 'way=iron&lot=L-01&recipe=soda+ash+60,+lead+30,+iron+25'],
  '/treatments/advice': ['lot=$lotId', 'way=roasted&collector=litharge', 'way=oxidizing&nitre=900'],
  '/terms/new': ['start=concentrate', 'start=dore'],
  '/supply-stock/buy': ['supply=$supplyId'],
  '/expenses': ['from=2026-08-01'],
  '/changes': ['record=$lotId'],
  '/decide': ['lot=$lotId'],
  '/batches/new': ['lot=$lotId'],
  '/lineage': ['of=lot:$lotId', 'of=day:$dayId', 'of=batch:$batchId'],
  '/stock': ['all=yes'],
  '/settlements/new': ['product=$productId&stage=provisional'],
};

interface Address {
  address: string;
  /** Another record fills the same page, whose colours and wide layout have been looked at. */
  again: boolean;
}

/** Every address of a page: one for each record that it can show. */
function addressesOf(path: string, records: Record<string, string[]>): Address[] {
  const searches = (askedAbout[path] ?? []).map((search) => `${path}?${search}`);
  return [path, ...searches].flatMap((address) => {
    const [, name] = /\$(\w+)/.exec(address) ?? [];
    if (name === undefined) return [{ address, again: false }];
    const ids = records[name];
    if (ids === undefined) throw new Error(`Say in this file which records $${name} stands for.`);
    return ids.map((id, place) => ({ address: address.replace(`$${name}`, id), again: place > 0 }));
  });
}

describeWithPoursheet('every page of the demo season', { empty: false }, (mill) => {
  it.each(Object.keys(createPages().routesByPath))(
    '%s is sound on phone and laptop, by day and by night',
    async (path) => {
      const addresses = addressesOf(path, await recordsOf(mill));
      expect(addresses).not.toEqual([]);
      const page = await mill.openTab({ viewport: phone, reducedMotion: 'reduce' });
      const faults: string[] = [];
      for (const { address, again } of addresses) {
        await page.goto(address);
        const found = [...(await faultsOf(page, { phoneOnly: again })), ...mill.takeComplaints()];
        faults.push(...found.map((fault) => `${address} ${fault}`));
      }
      expect(faults).toEqual([]);
    },
  );
});

async function faultsOf(page: Page, { phoneOnly }: { phoneOnly: boolean }): Promise<string[]> {
  await page.setViewportSize(phone);
  await standing(page);
  await page.evaluate(axe.source);
  const faults: string[] = [];
  const headings = await page.getByRole('heading', { level: 1 }).count();
  if (headings !== 1) faults.push(`has ${headings} headings of the first level`);
  const title = await page.title();
  if (!/^\S.* – Poursheet$/.test(title)) faults.push(`has the title “${title}”`);
  if (!(await page.getByRole('note').filter({ hasText: 'Demo season' }).isVisible()))
    faults.push('does not say that the season is invented');
  await page.evaluate(() => document.querySelectorAll('details').forEach((folded) => (folded.open = true)));
  for (const size of phoneOnly ? [phone] : [phone, laptop]) {
    await page.setViewportSize(size);
    await page.emulateMedia({ colorScheme: 'light' });
    await atRest(page);
    const wide = await overflow(page);
    const byDay = await violations(page);
    await page.emulateMedia({ colorScheme: 'dark' });
    const byNight = phoneOnly ? [] : await violations(page, ['color-contrast', 'link-in-text-block']);
    faults.push(...[...wide, ...byDay, ...byNight].map((fault) => `at ${size.width} px: ${fault}`));
  }
  return faults;
}

/** Waits until the page has taken note of its new size. */
async function atRest(page: Page): Promise<void> {
  await page.evaluate(
    () =>
      new Promise((resolve) => requestAnimationFrame(() => requestIdleCallback(resolve, { timeout: 2000 }))),
  );
}

/** A page never scrolls sideways; a wide table scrolls within itself. */
async function overflow(page: Page): Promise<string[]> {
  const pageWidth = await page.evaluate(() => document.scrollingElement?.scrollWidth ?? 0);
  const width = page.viewportSize()?.width ?? 0;
  return pageWidth > width ? [`the page is ${pageWidth} px wide`] : [];
}

/** What axe-core calls serious or critical, with the places where it is found. */
async function violations(page: Page, rules?: string[]): Promise<string[]> {
  const { violations: found } = await page.evaluate(
    (runOnly) =>
      (globalThis as unknown as { axe: typeof axe }).axe.run(document, {
        resultTypes: ['violations'],
        ...(runOnly === undefined ? {} : { runOnly }),
      }),
    rules,
  );
  return found
    .filter(({ impact }) => impact === 'serious' || impact === 'critical')
    .map(({ id, help, nodes }) => `${id} (${help}): ${nodes.map(({ target }) => String(target)).join('; ')}`);
}
