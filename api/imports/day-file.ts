import { closestKnown } from './closest.ts';
import { nameCell } from './cells.ts';
import { columnOfField, fracOf, optional, percentOf, plain, required, type FileKind } from './file-kind.ts';
import type { RowReader } from './row-reader.ts';
import { Dec } from '../calc/money.ts';
import type { Mill, Season } from '../schemas/mill.ts';
import { newProductionDay, type NewProductionDay } from '../schemas/production-day.ts';
import type { Supply } from '../schemas/supply.ts';

type Named = Pick<Supply, 'id' | 'name' | 'kind' | 'unit'>;
type FeedSettings = Pick<Mill, 'feedUnit' | 'feedTonnesPerUnit' | 'feedMoistureFrac'>;

const usedColumn = (name: string): string => `used:${name}`;

const columns = [
  required('day'),
  optional('feed_quantity'),
  optional('feed_unit'),
  optional('feed_tonnes_per_unit'),
  optional('feed_moisture_percent'),
  optional('feed_gold_gpt'),
  optional('feed_silver_gpt'),
  optional('tailings_gold_gpt'),
  optional('tailings_silver_gpt'),
  optional('concentrate_wet_kg'),
  optional('concentrate_moisture_percent'),
  optional('hours_run'),
  optional('people'),
  optional('wage'),
  optional('remarks'),
];

/** Columns of fields whose names differ from the fields' own. */
const COLUMNS: Record<string, string> = {
  feedMoistureFrac: 'feed_moisture_percent',
  concentrateMoistureFrac: 'concentrate_moisture_percent',
  labour: 'people',
};

/**
 * A file of days of the log: the date is the key. What one of the feed's unit weighs and its moisture come from the
 * settings where the file does not say them; supplies have a column each, `used:<name>`, in the supply's unit.
 */
export function dayFile(
  settings: FeedSettings,
  supplies: readonly Named[],
  seasons: readonly Season[],
): FileKind<NewProductionDay> {
  const wages = supplies.filter(({ kind }) => kind === 'labour');
  const usable = supplies.filter(({ kind }) => kind !== 'labour');
  const nameOf = new Map(supplies.map(({ id, name }) => [id, name]));
  return {
    columns: [...columns, ...usable.map(({ name }) => optional(usedColumn(name)))],
    whyUnknown: (header) => {
      const [, name = ''] = /^used\s*:\s*(.+)$/i.exec(nameCell(header)) ?? [];
      if (name === '') return null;
      if (wages.some((one) => one.name.toLowerCase() === name.toLowerCase()))
        return `${name} is a wage: hours go into the column people.`;
      const known = usable.map((one) => one.name);
      return `There is no ${name} among the supplies; ${closestKnown(name, known, 'supplies')}. Enter it there first, or mend the name.`;
    },
    keyOf: ({ day }) => day,
    titleOf: ({ day }) => `The day ${day}`,
    understand: (reader) => {
      const day = reader.date('day');
      if (day != null && !seasons.some(({ startsOn, endsOn }) => startsOn <= day && day <= endsOn))
        reader.refuse('day', () => 'must be a day of a season; open the season on the settings page first');
      const used = usable.flatMap(({ id, name }) => {
        const quantity = reader.decimal(usedColumn(name));
        return quantity == null || new Dec(quantity).isZero() ? [] : [{ supplyId: id, quantity, name }];
      });
      return reader.checked(
        newProductionDay,
        {
          day,
          feedQuantity: reader.decimal('feed_quantity'),
          feedUnit: reader.name('feed_unit') || settings.feedUnit,
          feedTonnesPerUnit: reader.decimal('feed_tonnes_per_unit') ?? settings.feedTonnesPerUnit,
          feedMoistureFrac: percent(reader, 'feed_moisture_percent') ?? settings.feedMoistureFrac,
          feedGoldGpt: reader.decimal('feed_gold_gpt'),
          feedSilverGpt: reader.decimal('feed_silver_gpt'),
          tailingsGoldGpt: reader.decimal('tailings_gold_gpt'),
          tailingsSilverGpt: reader.decimal('tailings_silver_gpt'),
          concentrateWetKg: reader.decimal('concentrate_wet_kg'),
          concentrateMoistureFrac: percent(reader, 'concentrate_moisture_percent'),
          hoursRun: reader.decimal('hours_run'),
          supplies: used.map(({ supplyId, quantity }) => ({ supplyId, quantity })),
          labour: peopleOf(reader, wages),
          remarks: reader.text('remarks'),
        },
        ([field, at]) => {
          if (field === 'supplies') return usedColumn(used[Number(at ?? 0)]?.name ?? '');
          return COLUMNS[String(field)] ?? columnOfField(field);
        },
      );
    },
    shown: (day) => ({
      day: day.day,
      feed_quantity: plain(day.feedQuantity),
      feed_unit: day.feedUnit,
      feed_tonnes_per_unit: plain(day.feedTonnesPerUnit),
      feed_moisture_percent: percentOf(day.feedMoistureFrac),
      feed_gold_gpt: plain(day.feedGoldGpt),
      feed_silver_gpt: plain(day.feedSilverGpt),
      tailings_gold_gpt: plain(day.tailingsGoldGpt),
      tailings_silver_gpt: plain(day.tailingsSilverGpt),
      concentrate_wet_kg: plain(day.concentrateWetKg),
      concentrate_moisture_percent:
        day.concentrateMoistureFrac === null ? '' : percentOf(day.concentrateMoistureFrac),
      hours_run: plain(day.hoursRun),
      people: day.labour.map(({ person, hours }) => `${person} ${plain(hours)}`).join('; '),
      wage: [...new Set(day.labour.map(({ supplyId }) => nameOf.get(supplyId) ?? ''))].join('; '),
      ...Object.fromEntries(
        day.supplies.map(({ supplyId, quantity }) => [
          usedColumn(nameOf.get(supplyId) ?? supplyId),
          plain(quantity),
        ]),
      ),
      remarks: day.remarks,
    }),
  };
}

/** A cell in percent as a fraction below one. */
function percent(reader: RowReader, column: string): string | null | undefined {
  const text = reader.decimal(column);
  if (text == null) return text;
  const value = new Dec(text);
  if (!value.isNegative() && value.lessThan(100) && value.decimalPlaces() <= 6) return fracOf(text);
  reader.refuse(column, () => 'must be from 0 to below 100 percent, with at most 6 decimals');
  return undefined;
}

/** `Ada 8; Bo 7.5`: each with hours behind the name, all at the wage of the column `wage`. */
function peopleOf(reader: RowReader, wages: readonly Named[]): NewProductionDay['labour'] {
  const cell = reader.text('people');
  if (cell === '') return [];
  const asked = reader.name('wage');
  const wage =
    asked === ''
      ? wages.length === 1
        ? wages[0]
        : undefined
      : wages.find(({ name }) => name.toLowerCase() === asked.toLowerCase());
  if (wage === undefined) {
    const names = wages.map(({ name }) => name).join(', ') || 'none yet';
    reader.refuse('wage', () => `must be one of the wages in Prices & costs: ${names}`);
    return [];
  }
  return cell.split(/[;\n]/).flatMap((text) => {
    const [, person = '', hours = ''] = /^\s*(.+?)\s+(\d+(?:[.,]\d+)?)\s*(?:h|hours)?\s*$/.exec(text) ?? [];
    if (person !== '') return [{ person, supplyId: wage.id, hours: hours.replace(',', '.') }];
    if (text.trim() !== '')
      reader.refuse(
        'people',
        () => 'must have each name with its hours behind it, parted by ;, as Ada 8; Bo 7.5',
      );
    return [];
  });
}
