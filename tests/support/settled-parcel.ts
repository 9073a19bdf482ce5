import { NO_DATES, type smallMill } from './mill.ts';

type Mill = Awaited<ReturnType<typeof smallMill>>;

/** An invented parcel of 200 kg sold to the smelter of the small mill, and what is entered for its first statement. */
export async function soldParcel({ enter, seasonId, smelterTermsId }: Mill, code = 'T') {
  const lot = await enter('POST', '/lots', {
    seasonId,
    code: `${code}-LOT`,
    madeOn: '2026-05-20',
    wetMassKg: '250',
    moistureFrac: '0',
  });
  await enter('POST', `/lots/${lot.id}/lab-assays`, {
    laboratory: 'Invented laboratory',
    assayedOn: '2026-05-22',
    element: 'Au',
    unit: 'g/t',
    value: '400',
  });
  const batch = await enter('POST', '/batches', {
    code: `${code}-BATCH`,
    lotId: lot.id,
    treatmentId: null,
    termsId: smelterTermsId,
    plannedOn: '2026-06-05',
    dryMassKg: '200',
    assumptions: {},
  });
  const parcel = await enter('POST', `/batches/${batch.id}/products`, {
    code: `${code}-PARCEL`,
    kind: 'parcel',
    madeOn: '2026-06-06',
    massKg: '200',
  });
  const assay = (element: string, unit: string, own: string) => ({
    element,
    unit,
    own,
    buyer: null,
    umpire: null,
  });
  return {
    productId: parcel.id as string,
    entry: {
      productId: parcel.id as string,
      termsId: smelterTermsId,
      stage: 'provisional',
      parcel: {
        kind: 'concentrate',
        sublots: [{ name: 'Drum', grossKg: '209', tareKg: '9', moistureFrac: '0.04' }],
      },
      assays: [assay('Au', 'g/t', '398'), assay('Ag', 'g/t', '900'), assay('As', 'percent', '0.4')],
      dates: { ...NO_DATES, shippedOn: '2026-06-06', arrivedOn: '2026-06-08', statementOn: '2026-06-09' },
    },
  };
}

/** Keeps what was entered as a draft and issues it. */
export async function issue({ enter }: Mill, entry: object, issuedOn: string) {
  const draft = await enter('POST', '/statements', entry);
  return enter('POST', `/statements/${draft.id}/issue`, { version: draft.version, issuedOn });
}
