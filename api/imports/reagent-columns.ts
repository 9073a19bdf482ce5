import { nameCell } from './cells.ts';
import { closestKnown } from './closest.ts';
import { optional, plain } from './file-kind.ts';
import type { KnownColumn } from './header.ts';
import type { RowReader } from './row-reader.ts';
import type { Supply } from '../schemas/supply.ts';
import { reagentColumn } from '../../reports/csv/templates.ts';

type Named = Pick<Supply, 'id' | 'name' | 'kind'>;

/** What is weighed into a charge as a reagent; lead and iron have columns of their own. */
export function isReagent({ kind }: Pick<Supply, 'kind'>): boolean {
  return kind === 'reagent' || kind === 'litharge' || kind === 'other';
}

const insteadOf: Partial<Record<Supply['kind'], string>> = {
  lead: 'is lead: its mass goes into the column collector_lead_g',
  iron: 'is iron: its mass goes into the columns iron_in_g and iron_out_g',
};

/** The columns `reagent:<name of the supply>_g`, with what they say of a test smelt. */
export function reagentColumns(supplies: readonly Named[]) {
  const reagents = supplies
    .filter(isReagent)
    .map(({ id, name }) => ({ supplyId: id, column: reagentColumn(name) }));
  const columnById = new Map(reagents.map(({ supplyId, column }) => [supplyId, column]));
  return {
    columns: reagents.map(({ column }): KnownColumn => optional(column)),
    whyUnknown: (header: string): string | null => whyUnknownReagent(header, supplies),
    /** A zero is the same as nothing: none was added. */
    read: (reader: RowReader): { supplyId: string; massG: number; column: string }[] =>
      reagents.flatMap(({ supplyId, column }) => {
        const massG = reader.number(column);
        return massG == null || massG === 0 ? [] : [{ supplyId, massG, column }];
      }),
    shown: (weighed: readonly { supplyId: string; massG: number }[]): Record<string, string> =>
      Object.fromEntries(
        weighed.map(({ supplyId, massG }) => [columnById.get(supplyId) ?? supplyId, plain(massG)]),
      ),
  };
}

function whyUnknownReagent(header: string, supplies: readonly Named[]): string | null {
  const [, written = ''] = /^reagent\s*:\s*(.+)$/i.exec(nameCell(header)) ?? [];
  if (written === '') return null;
  const name = written.replace(/[\s_]*g$/i, '');
  if (!/[\s_]g$/i.test(written))
    return `The column of a reagent's mass in grams is named ${reagentColumn(written)}.`;
  const supply = supplies.find((one) => one.name.toLowerCase() === name.toLowerCase());
  if (supply !== undefined)
    return `${supply.name} ${insteadOf[supply.kind] ?? `is recorded as ${supply.kind}, not as a reagent`}.`;
  const known = supplies.filter(isReagent).map((one) => one.name);
  return `There is no reagent ${name} among the supplies; ${closestKnown(name, known, 'reagents')}. Enter it there first, or mend the name.`;
}
