import type { ReagentMasses } from '../../../api/calc/smelting/oxygen-balance.ts';
import type { RecipeWork } from '../../../api/calc/smelting/recipe-work.ts';
import type { Supply } from '../../../api/schemas/supply.ts';
import { recipeEffectTable } from '../../../reports/model/recipe-effect-table.ts';
import { useFormat } from '../../lib/owner.ts';
import { DataTable } from '../../parts/data-table.tsx';
import { effectSentence, mostConcentrateKg } from './advice-words.ts';

/** What a recipe will do to 100 g of a lot, and how much of it goes into each crucible. */
export function RecipeEffect(props: {
  work: RecipeWork;
  reagents: ReagentMasses;
  lotCode: string;
  crucibles: readonly Supply[];
}) {
  const { work, reagents, lotCode, crucibles } = props;
  const format = useFormat();
  const table = recipeEffectTable(work, { caption: `Expected of 100 g of ${lotCode}`, size: 'small' });
  return (
    <>
      <p>{effectSentence(work, reagents, lotCode, format)}</p>
      <DataTable caption={table.caption} columns={table.columns} rows={table.rows} narrow="stack" />
      <p>
        Two thirds full before the melt, 100 g need a crucible of at least{' '}
        {format.number(Math.ceil(work.volume.smallestCrucibleMl), 0)} mL
        {crucibles.map(({ id, name, crucibleVolumeMl }) =>
          crucibleVolumeMl === null ? null : (
            <span key={id}>
              ; into “{name}” go at most{' '}
              {format.quantity('lotMassKg', mostConcentrateKg(work, crucibleVolumeMl), 1)} of concentrate
            </span>
          ),
        )}
        .
      </p>
    </>
  );
}
