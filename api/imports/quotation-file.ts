import { columnOfField, keyFrom, optional, plain, required, type FileKind } from './file-kind.ts';
import { quotation, type Quotation } from '../schemas/supply.ts';

const columns = [
  required('metal'),
  required('quoted_on'),
  required('price'),
  required('currency'),
  required('unit'),
  optional('source'),
];

/** A file of daily quotations: one a metal, currency, unit and day. */
export const quotationFile: FileKind<Quotation> = {
  columns,
  keyOf: ({ metal, currency, unit, quotedOn }) => keyFrom(metal, currency, unit, quotedOn),
  titleOf: ({ metal, currency, unit, quotedOn }) =>
    `The quotation of ${metal} in ${currency}/${unit} on ${quotedOn}`,
  understand: (reader) =>
    reader.checked(
      quotation,
      {
        metal: reader.name('metal'),
        quotedOn: reader.date('quoted_on'),
        price: reader.decimal('price'),
        currency: reader.name('currency'),
        unit: reader.name('unit'),
        source: reader.text('source'),
      },
      ([field]) => columnOfField(field),
    ),
  shown: (row) => ({
    metal: row.metal,
    quoted_on: row.quotedOn,
    price: plain(row.price),
    currency: row.currency,
    unit: row.unit,
    source: row.source,
  }),
};
