import type { z } from 'zod';
import { columnOfField, fracOf, optional, percentOf, plain, required, type FileKind } from './file-kind.ts';
import { Dec } from '../calc/money.ts';
import type { RowReader } from './row-reader.ts';
import { mineralNames, newLot } from '../schemas/lot.ts';
import type { Season } from '../schemas/mill.ts';

export type LotEntry = z.output<typeof newLot>;

const MOST_PERCENT_DECIMALS = 6;

const columns = [
  required('code'),
  optional('description'),
  required('made_on'),
  required('wet_mass_kg'),
  required('moisture_percent'),
  ...mineralNames.map((mineral) => optional(mineralColumn(mineral))),
  optional('remarks'),
];

function mineralColumn(mineral: string): string {
  return `${mineral}_percent`;
}

/** A file of lots: the code is the key, and the day it was made on says the season. */
export function lotFile(seasons: readonly Season[]): FileKind<LotEntry> {
  return {
    columns,
    keyOf: (lot) => lot.code,
    titleOf: (lot) => `Lot ${lot.code}`,
    understand: (reader) => {
      const madeOn = reader.date('made_on');
      const minerals = mineralsOf(reader);
      return reader.checked(
        newLot,
        {
          seasonId: madeOn == null ? undefined : seasonOf(madeOn, seasons, reader),
          code: reader.name('code'),
          description: reader.text('description'),
          madeOn,
          wetMassKg: reader.decimal('wet_mass_kg'),
          moistureFrac: percent(reader, 'moisture_percent'),
          minerals,
          remarks: reader.text('remarks'),
        },
        ([field, at]) => {
          if (field === 'minerals') return mineralColumn(minerals[Number(at ?? 0)]?.mineral ?? '');
          if (field === 'seasonId') return 'made_on';
          return field === 'moistureFrac' ? 'moisture_percent' : columnOfField(field);
        },
      );
    },
    shown: (lot) => ({
      code: lot.code,
      description: lot.description,
      made_on: lot.madeOn,
      wet_mass_kg: plain(lot.wetMassKg),
      moisture_percent: percentOf(lot.moistureFrac),
      ...Object.fromEntries(
        lot.minerals.map(({ mineral, massFrac }) => [mineralColumn(mineral), percentOf(massFrac)]),
      ),
      remarks: lot.remarks,
    }),
  };
}

function seasonOf(madeOn: string, seasons: readonly Season[], reader: RowReader): string | undefined {
  const holding = seasons.filter(({ startsOn, endsOn }) => startsOn <= madeOn && madeOn <= endsOn);
  const [season, another] = holding;
  if (season === undefined)
    reader.refuse('made_on', () => {
      const known = seasons.map(({ name, startsOn, endsOn }) => `${name} (${startsOn} to ${endsOn})`);
      return `must be a day of a season; recorded are ${known.join(', ') || 'none'}`;
    });
  if (another !== undefined)
    reader.refuse('made_on', () => {
      const names = holding.map(({ name }) => name).join(' and ');
      return `must be a day of one season alone, but ${names} overlap; mend the days of the seasons first`;
    });
  return season?.id;
}

/** A cell in percent as a fraction; the schema's own words speak of fractions, so that the range is told here. */
function percent(reader: RowReader, column: string): string | null | undefined {
  const text = reader.decimal(column);
  if (text == null) return text;
  const value = new Dec(text);
  if (value.isNegative() || value.greaterThan(100))
    reader.refuse(column, () => 'must be from 0 to 100 percent');
  else if (column === 'moisture_percent' && value.equals(100))
    reader.refuse(column, () => 'must be below 100 percent');
  else if (value.decimalPlaces() > MOST_PERCENT_DECIMALS)
    reader.refuse(column, () => `must have at most ${MOST_PERCENT_DECIMALS} decimals`);
  else return fracOf(text);
  return undefined;
}

/** An empty cell is 'not known', a zero is 'none of it': a lot lists neither. */
function mineralsOf(reader: RowReader): LotEntry['minerals'] {
  const minerals = mineralNames.flatMap((mineral) => {
    const massFrac = percent(reader, mineralColumn(mineral));
    return massFrac == null || new Dec(massFrac).isZero() ? [] : [{ mineral, massFrac }];
  });
  const sum = minerals.reduce((total, { massFrac }) => total.plus(massFrac), new Dec(0));
  const [first] = minerals;
  if (sum.greaterThan(1) && first !== undefined)
    reader.refuse(
      mineralColumn(first.mineral),
      () =>
        `must not, with the other minerals, add up to more than 100 percent; they add up to ${sum.times(100).toFixed()}`,
    );
  return minerals;
}
