import type { Enter } from './load-demo-season.ts';

interface Known {
  batches: Map<string, string>;
  terms: Map<string, string>;
  supplies: Map<string, string>;
}

const NO_DATES = {
  shippedOn: null,
  arrivedOn: null,
  weighedOn: null,
  meltedOn: null,
  assaysExchangedOn: null,
  priceDeclaredOn: null,
  statementOn: null,
};

/** What came of the batches, and the statements at their different stages. */
export async function inventedStatements(enter: Enter, known: Known): Promise<void> {
  await roastedBatch(enter, known);
  await runningBatch(enter, known);
  await soldBatch(enter, known);
}

/** A batch that is done and settled: provisional on our own assay, final on the refiner's. */
async function roastedBatch(enter: Enter, { batches, terms, supplies }: Known): Promise<void> {
  const batchId = batches.get('B-01');
  const used = (name: string, quantity: string) => ({ supplyId: supplies.get(name), quantity });
  await enter('PUT', `/batches/${batchId}`, {
    status: 'done',
    startedOn: '2026-07-03',
    finishedOn: '2026-07-08',
    furnaceHours: '13.5',
    labourHours: '25',
    leadInKg: '0',
    leadBackKg: '46.2',
    consumption: [
      used('Soda ash', '48'),
      used('Borax', '36.5'),
      used('Silica sand', '21'),
      used('Flour', '10.8'),
      used('Litharge', '54'),
      used('Propane', '101'),
      used('Bone ash cupel, 1.2 kg', '39'),
      used('Clay graphite crucible, 35 L', '1'),
    ],
    remarks: 'Roasted outdoors in the evening, wind from the west. Lead won back from the crushed cupels.',
    version: 1,
  });
  const product = await enter('POST', `/batches/${batchId}/products`, {
    code: 'BAR-01',
    kind: 'bar',
    madeOn: '2026-07-08',
    massKg: '0.4512',
    goldFinenessFrac: '0.2215',
    silverFinenessFrac: '0.7345',
  });
  const entry = {
    productId: product.id,
    termsId: terms.get('Vellorin Refining (invented)'),
    parcel: {
      kind: 'dore',
      bars: [{ name: 'BAR-01', receivedG: '451.2', afterMeltG: null as string | null }],
    },
    dates: {
      ...NO_DATES,
      shippedOn: '2026-07-10',
      arrivedOn: '2026-07-14',
      statementOn: '2026-07-15',
    },
  };
  const assay = (element: string, own: string, buyer: string | null) => ({
    element,
    unit: 'fineness',
    own,
    buyer,
    umpire: null,
  });
  await issue(
    enter,
    {
      ...entry,
      stage: 'provisional',
      assays: [assay('Au', '221.5', null), assay('Ag', '734.5', null)],
    },
    '2026-07-15',
  );
  await issue(
    enter,
    {
      ...entry,
      stage: 'final',
      parcel: { kind: 'dore', bars: [{ name: 'BAR-01', receivedG: '451.2', afterMeltG: '449.9' }] },
      assays: [assay('Au', '221.5', '222.1'), assay('Ag', '734.5', '731.8')],
      dates: { ...entry.dates, meltedOn: '2026-07-16', statementOn: '2026-07-24' },
    },
    '2026-07-24',
  );
}

async function runningBatch(enter: Enter, { batches }: Known): Promise<void> {
  await enter('PUT', `/batches/${batches.get('B-02')}`, {
    status: 'running',
    startedOn: '2026-07-13',
    finishedOn: null,
    furnaceHours: null,
    labourHours: null,
    leadInKg: '24',
    leadBackKg: null,
    consumption: [],
    remarks: 'Two of five charges poured.',
    version: 1,
  });
}

/** Concentrate sold as it is: provisional so far; the month after arrival fixes the price. */
async function soldBatch(enter: Enter, { batches, terms }: Known): Promise<void> {
  const batchId = batches.get('B-03');
  await enter('PUT', `/batches/${batchId}`, {
    status: 'done',
    startedOn: '2026-08-04',
    finishedOn: '2026-08-04',
    furnaceHours: null,
    labourHours: null,
    leadInKg: null,
    leadBackKg: null,
    consumption: [],
    remarks: 'Three drums, sampled by pipe.',
    version: 1,
  });
  const product = await enter('POST', `/batches/${batchId}/products`, {
    code: 'PARCEL-01',
    kind: 'parcel',
    madeOn: '2026-08-04',
    massKg: '319.8',
  });
  const drum = (name: string, grossKg: string, moistureFrac: string) => ({
    name,
    grossKg,
    tareKg: '9.5',
    moistureFrac,
  });
  await issue(
    enter,
    {
      productId: product.id,
      termsId: terms.get('Brackenmoor Smelting (invented)'),
      stage: 'provisional',
      parcel: {
        kind: 'concentrate',
        sublots: [
          drum('Drum 1', '118.5', '0.0615'),
          drum('Drum 2', '116', '0.0622'),
          drum('Drum 3', '113.8', '0.0624'),
        ],
      },
      assays: [
        { element: 'Au', unit: 'g/t', own: '238', buyer: null, umpire: null },
        { element: 'Ag', unit: 'g/t', own: '6650', buyer: null, umpire: null },
        { element: 'As', unit: 'percent', own: '0.35', buyer: null, umpire: null },
      ],
      dates: { ...NO_DATES, shippedOn: '2026-08-05', arrivedOn: '2026-08-12', statementOn: '2026-08-14' },
    },
    '2026-08-14',
  );
}

async function issue(enter: Enter, entry: object, issuedOn: string): Promise<void> {
  const draft = await enter('POST', '/statements', entry);
  await enter('POST', `/statements/${draft.id}/issue`, { version: draft.version, issuedOn });
}
