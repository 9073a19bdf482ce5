import { beforeAll, expect, it } from 'vitest';
import { nextIn } from '../../web/api.ts';
import { describeOnEveryEngine } from '../support/engines.ts';
import { smallMill } from '../support/mill.ts';

type Mill = Awaited<ReturnType<typeof smallMill>>;

const CODES = Array.from({ length: 7 }, (_, at) => `L-0${at + 1}`);
/** Each list that grows with the years, and how to ask for it. */
const LISTS = [
  '/lots',
  '/trials',
  '/batches',
  '/statements',
  '/decisions',
  '/days',
  '/days/with-concentrate',
  '/shipments',
  '/write-offs',
  '/expenses',
  '/supply-purchases',
  '/supply-counts',
];

/** A list page by page to its end: the codes (or days) of each page. */
async function pages(mill: Mill, path: string, name = 'code'): Promise<string[][]> {
  const found: string[][] = [];
  let address: string | null = `/api${path}`;
  while (address !== null) {
    const { body, headers } = await mill.send('GET', address.replace('/api', ''));
    found.push(body.map((row: Record<string, string>) => row[name]));
    const [, next] = /<([^>]*)>; rel="next"/.exec(headers.get('link') ?? '') ?? [];
    address = next ?? null;
    if (found.length > 20) throw new Error(`${path} does not end`);
  }
  return found;
}

describeOnEveryEngine('lists', (open) => {
  let mill: Mill;
  beforeAll(async () => {
    const { db } = await open();
    mill = await smallMill(db);
    for (const [at, code] of CODES.entries())
      await mill.enter('POST', '/lots', {
        seasonId: mill.seasonId,
        code,
        description: at % 2 === 0 ? 'Table 100 % clean' : 'Sluice',
        // Two on one day, so that the code decides.
        madeOn: `2026-06-0${Math.ceil((at + 1) / 2)}`,
        wetMassKg: '100',
        moistureFrac: '0.1',
      });
    for (const day of ['01', '02', '03'])
      await mill.enter('POST', '/expenses', {
        spentOn: `2026-07-${day}`,
        kind: 'rent',
        amount: '10',
        currency: 'USD',
      });
  });
  const codesOf = async (path: string): Promise<string[]> =>
    (await mill.enter('GET', path)).map(({ code }: { code: string }) => code);

  it('are given page by page, each row once, either way round', async () => {
    const all = await codesOf('/lots?limit=200');
    expect(all).toEqual(expect.arrayContaining(CODES));
    const forward = await pages(mill, '/lots?limit=3');
    expect(forward.every((page) => page.length <= 3)).toBe(true);
    expect(forward.flat()).toEqual(all);
    const back = await pages(mill, `/lots?limit=3&newestFirst=true&seasonId=${mill.seasonId}`);
    expect(back.flat()).toEqual(all.toReversed());
    expect((await pages(mill, '/expenses?limit=1', 'spentOn')).flat()).toEqual([
      '2026-07-01',
      '2026-07-02',
      '2026-07-03',
    ]);
  });

  it('leave out or repeat nothing while others enter records', async () => {
    const first = await mill.send('GET', '/lots?limit=4&newestFirst=true');
    const seen: string[] = first.body.map(({ code }: { code: string }) => code);
    const newer = await mill.enter('POST', '/lots', {
      seasonId: mill.seasonId,
      code: 'L-99',
      madeOn: '2026-07-30',
      wetMassKg: '1',
      moistureFrac: '0',
    });
    const after = nextIn(first.headers.get('link'));
    const rest = await codesOf(`/lots?limit=200&newestFirst=true&after=${after}`);
    await mill.send('DELETE', `/lots/${newer.id}`);
    expect([...seen, ...rest]).toEqual((await codesOf('/lots?limit=200')).toReversed());
  });

  it.each(LISTS)('%s gives no more than it says, and refuses to', async (path) => {
    const { body, headers } = await mill.send('GET', path);
    expect(Array.isArray(body)).toBe(true);
    expect(headers.get('link')).toBeNull();
    for (const bad of ['limit=0', 'limit=100000', 'limit=ten', 'after=nothing']) {
      const answer = await mill.send('GET', `${path}?${bad}`);
      expect(answer.status, bad).toBe(422);
      expect(answer.body.errors[0].pointer).toBe(`/${bad.split('=')[0]}`);
    }
    const gone = await mill.send('GET', `${path}?after=${crypto.randomUUID()}`);
    expect([gone.status, gone.body.errors[0].pointer]).toEqual([422, '/after']);
  });

  it('say their limits and the way to the next page in the API’s document', async () => {
    const { paths } = await mill.enter('GET', '/openapi.json');
    for (const path of LISTS) {
      const { get } = paths[`/api${path}`];
      const named = (name: string) => get.parameters.find((one: { name: string }) => one.name === name);
      expect(named('limit').schema.default, path).toBeGreaterThan(0);
      expect(named('limit').schema.maximum, path).toBeLessThanOrEqual(400);
      expect(named('after').description, path).toContain('Link');
      expect(get.responses['200'].headers.Link.description, path).toContain('RFC 8288');
    }
  });

  it('find old lots by a part of their code or description, in which % stands for itself', async () => {
    expect(await codesOf('/lots?sought=l-03')).toEqual(['L-03']);
    expect(await codesOf('/lots?sought=sluice')).toEqual(['L-02', 'L-04', 'L-06']);
    expect(await codesOf(`/lots?sought=${encodeURIComponent('100 %')}`)).toHaveLength(4);
    expect(await codesOf(`/lots?sought=${encodeURIComponent('100_%')}`)).toEqual([]);
  });

  it('give named lots and pass over ids that are not there', async () => {
    const [one] = await mill.enter('GET', '/lots?sought=L-05');
    expect(await codesOf(`/lots?ids=${one.id},${crypto.randomUUID()}`)).toEqual(['L-05']);
    expect((await mill.send('GET', '/lots?ids=nothing')).status).toBe(422);
  });

  it('name batches by what waits for a settlement, and statements by what is unpaid', async () => {
    expect(await codesOf('/batches?toSettle=made')).toEqual([]);
    const [lot] = await mill.enter('GET', '/lots?sought=L-01');
    await mill.enter('POST', `/lots/${lot.id}/lab-assays`, {
      laboratory: 'Invented laboratory',
      assayedOn: '2026-06-12',
      element: 'Au',
      unit: 'g/t',
      value: '400',
    });
    const batch = await mill.enter('POST', '/batches', {
      code: 'B-01',
      lotId: lot.id,
      treatmentId: mill.treatmentId,
      termsId: mill.refinerTermsId,
      plannedOn: '2026-06-20',
      dryMassKg: '40',
      assumptions: {},
    });
    expect(await codesOf('/batches?status=planned')).toEqual(['B-01']);
    expect(await codesOf('/batches?status=done')).toEqual([]);
    expect(await codesOf('/batches?toSettle=open')).toEqual([]);
    const bar = await mill.enter('POST', `/batches/${batch.id}/products`, {
      code: 'BAR-7',
      kind: 'bar',
      madeOn: '2026-06-22',
      massKg: '2',
    });
    expect(await codesOf('/batches?toSettle=open')).toEqual(['B-01']);
    expect(await codesOf('/batches?sought=bar-7')).toEqual(['B-01']);
    expect(await codesOf(`/batches?productId=${bar.id}`)).toEqual(['B-01']);
    expect(await mill.enter('GET', '/statements?unpaid=true')).toEqual([]);
  });

  it('say for today what waits, by the same words as the records', async () => {
    const today = await mill.enter('GET', '/today?on=2026-07-01');
    expect(today.entered).toEqual({ lot: true, testSmelt: false, batch: true });
    expect(today.season.lots).toBe((await codesOf('/lots?limit=200')).length);
    expect(today.planned).toMatchObject({ count: 1, first: [{ code: 'B-01', lotCode: 'L-01' }] });
    expect(today.unsettled).toEqual({ first: [], count: 0 });
    const left = (await mill.enter('GET', '/lots?left=true&limit=200')).length;
    expect(today.lotsLeft.count).toBe(left);
    expect((await mill.enter('GET', '/today?on=2050-01-01')).season).not.toBeNull();
  });
});
