import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, expect, it } from 'vitest';
import { endpointKey, GRANTS_FIELD, verdict } from '../../api/accounts/grants.ts';
import { roles, type Role } from '../../api/schemas/account.ts';
import { account, appWithAccounts, signedIn, visitor, type Visitor } from '../support/accounts.ts';
import { describeOnEveryEngine } from '../support/engines.ts';
import { smallMill } from '../support/mill.ts';
import { issue, soldParcel } from '../support/settled-parcel.ts';

interface Operation {
  method: string;
  path: string;
  grants: string[] | undefined;
}

const NOWHERE = '00000000-0000-4000-8000-000000000000';

/** What the forms and buttons of the pages say that they send, and what the pages that links lead to send. */
function sendsInPages(): string[] {
  const pages = join(import.meta.dirname, '../../web/pages');
  return readdirSync(pages, { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.tsx'))
    .flatMap((name) => [...readFileSync(join(pages, name), 'utf8').matchAll(/ (?:sends|change)="([^"]+)"/g)])
    .map(([, change = '']) => change);
}

/** Answers of the gate; whatever else comes back was let through to the endpoint. */
async function isRefused(response: Response): Promise<'not-signed-in' | 'not-allowed' | undefined> {
  if (response.status !== 401 && response.status !== 403) return undefined;
  const { type } = (await response.json()) as { type: string };
  if (type === '/problems/not-signed-in') return 'not-signed-in';
  return type === '/problems/not-allowed' ? 'not-allowed' : undefined;
}

describeOnEveryEngine('who may use an endpoint', (open) => {
  let app: ReturnType<typeof appWithAccounts>['app'];
  let operations: Operation[];
  const people = new Map<Role, Visitor>();
  let other: Visitor;
  /** Records of the one customer and of the other. */
  const own = { lot: '', statement: '' };
  const others = { lot: '', statement: '', draft: '' };

  beforeAll(async () => {
    const { db } = await open();
    const mill = await smallMill(db);
    const { enter } = mill;
    const ownSale = await soldParcel(mill, 'OWN');
    own.statement = (await issue(mill, ownSale.entry, '2026-06-09')).id;
    const counterparties: { id: string; name: string }[] = await enter('GET', '/counterparties');
    const smelter = counterparties.find(({ name }) => name === 'Invented Smelter')?.id ?? '';
    const refiner = counterparties.find(({ name }) => name === 'Invented Refiner')?.id ?? '';
    const lots: { id: string; code: string }[] = await enter('GET', '/lots');
    own.lot = lots.find(({ code }) => code === 'OWN-LOT')?.id ?? '';
    await enter('PUT', `/lots/${own.lot}/owner`, { counterpartyId: smelter });
    const lot = await enter('POST', '/lots', {
      seasonId: mill.seasonId,
      code: 'OTHER-LOT',
      madeOn: '2026-05-20',
      wetMassKg: '250',
      moistureFrac: '0',
    });
    others.lot = lot.id;
    await enter('PUT', `/lots/${others.lot}/owner`, { counterpartyId: refiner });
    others.draft = (await enter('POST', '/statements', { ...ownSale.entry, stage: 'final' })).id;

    const instance = appWithAccounts(db);
    ({ app } = instance);
    for (const role of roles)
      await account(db, { name: role, role, ...(role === 'customer' ? { counterpartyId: smelter } : {}) });
    await account(db, { name: 'other customer', role: 'customer', counterpartyId: refiner });
    for (const role of roles) people.set(role, await signedIn(app, role));
    other = await signedIn(app, 'other customer');

    const document = await (await (people.get('owner') as Visitor).send('GET', '/openapi.json')).json();
    operations = Object.entries(
      document.paths as Record<string, Record<string, Record<string, unknown>>>,
    ).flatMap(([path, methods]) =>
      Object.entries(methods).map(([method, described]) => ({
        method: method.toUpperCase(),
        path: path.replace(/^\/api/, ''),
        grants: described[GRANTS_FIELD] as string[] | undefined,
      })),
    );
  });

  /** An address of an operation: every name stands for one record, or for none. */
  const addressOf = ({ path }: Operation, id = NOWHERE): string =>
    path.replace('{id}', id).replaceAll(/\{\w+\}/g, NOWHERE);

  it('is said by every endpoint itself', () => {
    expect(operations.length).toBeGreaterThan(90);
    const silent = operations.filter(({ grants }) => grants === undefined);
    expect(
      silent.map(({ method, path }) => `${method} ${path} says nothing: see "An endpoint" in DEVELOPERS.md`),
    ).toEqual([]);
  });

  it('is kept for every role and for nobody, at every endpoint', async () => {
    const faults: string[] = [];
    for (const operation of operations) {
      const { method, grants = [] } = operation;
      const address = addressOf(operation);
      // Signing out would end the walk, and is open to anyone.
      if (method === 'DELETE' && /^\/session(\/sessions)?$/.test(address)) continue;
      const nobody = await isRefused(await visitor(app).send(method, address));
      if (nobody !== (grants.includes('anyone') ? undefined : 'not-signed-in'))
        faults.push(`${method} ${address} answered nobody with ${nobody}`);
      for (const [role, person] of people) {
        const refused = await isRefused(await person.send(method, address));
        const may = verdict(grants, role);
        if (refused !== (may === 'no' ? 'not-allowed' : undefined))
          faults.push(`${method} ${address} answered the ${role} with ${refused}`);
      }
    }
    expect(faults).toEqual([]);
  });

  it('leaves an accountant nothing to change, and an operator neither terms, settlements nor accounts', () => {
    // What asks to be worked out without being kept, and what everybody does with their own account.
    const keepsNothing = /\/(preview|read|verify|check)$|^\/session(\/|$)/;
    const changes = operations.filter(({ method, path }) => method !== 'GET' && !keepsNothing.test(path));
    const open = (role: Role) =>
      changes
        .filter(({ grants = [] }) => verdict(grants, role) !== 'no')
        .map(({ method, path }) => `${method} ${path}`);
    expect(open('accountant')).toEqual([]);
    expect(open('customer')).toEqual([]);
    expect(
      open('operator').filter((one) =>
        /\/(terms|statements|buyer-statements|accounts|download-links|counterparties|mill|seasons|decisions|budgets|account-codes)(\/|$)/.test(
          one,
        ),
      ),
    ).toEqual([]);
  });

  it('tells each role which changes are closed to it, in the words that the pages name them by', async () => {
    const named = sendsInPages();
    expect(named.length).toBeGreaterThan(60);
    const changes = operations.filter(({ method }) => method !== 'GET');
    const keyOf = ({ method, path }: Operation) => endpointKey(method, path).replace(/\/$/, '');
    expect(named.filter((name) => !changes.some((one) => keyOf(one) === name))).toEqual([]);
    for (const [role, person] of people) {
      const { closed } = (await (await person.send('GET', '/session')).json()) as { closed: string[] };
      const expected = changes.filter(({ grants = [] }) => verdict(grants, role) === 'no').map(keyOf);
      expect(closed.toSorted(), role).toEqual(expected.toSorted());
    }
  });

  it('gives a customer their own records, and of others not even that they are there', async () => {
    const customer = people.get('customer') as Visitor;
    const faults: string[] = [];
    const status = async (person: Visitor, operation: Operation, id: string) =>
      (await person.send(operation.method, addressOf(operation, id))).status;
    for (const operation of operations) {
      const { method, path, grants = [] } = operation;
      const may = verdict(grants, 'customer');
      const said = `${method} ${path}`;
      if (may === 'own-lot' || may === 'own-statement') {
        const [mine, theirs] = may === 'own-lot' ? [own.lot, others.lot] : [own.statement, others.draft];
        if ((await status(customer, operation, mine)) !== 200)
          faults.push(`${said} is closed to its customer`);
        if ((await status(other, operation, mine)) !== 404)
          faults.push(`${said} is open to another customer`);
        if ((await status(customer, operation, theirs)) !== 404)
          faults.push(`${said} opens what is not theirs`);
        if ((await status(customer, operation, NOWHERE)) !== 404)
          faults.push(`${said} answers otherwise for nothing`);
        if ((await status(customer, operation, 'x%2F..')) !== 404)
          faults.push(`${said} is confused by its address`);
      }
      if (method === 'GET' && path === '/lots/{id}') {
        const shown = (await (await customer.send(method, addressOf(operation, own.lot))).json()) as object;
        expect(shown).toMatchObject({
          remarks: '',
          parts: [],
          takenByLots: [],
          writeOffs: [],
          purchase: null,
        });
      }
      if (may === 'own-list') {
        const listed = async (person: Visitor) =>
          ((await (await person.send(method, path)).json()) as { id: string }[]).map(({ id }) => id);
        const mine = path === '/lots' ? [own.lot] : [own.statement];
        const theirs = path === '/lots' ? [others.lot] : [];
        expect(await listed(customer), said).toEqual(mine);
        expect(await listed(other), said).toEqual(theirs);
      }
      // All else is refused whatever record it is asked for.
      if (may === 'no')
        for (const id of [own.lot, own.statement, others.lot])
          if ((await status(customer, operation, id)) !== 403) faults.push(`${said} is open to a customer`);
    }
    expect(faults).toEqual([]);
  });

  it('is the owner’s alone where an endpoint is served without a word', async () => {
    const db = (await open()).db;
    const { createApp } = await import('../../api/app.ts');
    await smallMill(db);
    await account(db, { name: 'owner', role: 'owner' });
    await account(db, { name: 'operator', role: 'operator' });
    const instance = createApp({ db, now: () => new Date('2026-09-01T12:00:00Z') });
    instance.get('/unsaid', (c) => c.text('inside'));
    expect((await instance.request('/api/unsaid')).status).toBe(401);
    expect((await (await signedIn(instance, 'operator')).send('GET', '/unsaid')).status).toBe(403);
    expect(await (await (await signedIn(instance, 'owner')).send('GET', '/unsaid')).text()).toBe('inside');
    expect((await instance.request('/api/nothing-here')).status).toBe(404);
  });
});
