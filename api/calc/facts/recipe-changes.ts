import type { Finding } from '../finding.ts';
import { Dec } from '../money.ts';
import type { SupplyFacts, TreatmentFacts } from './records.ts';

type Charged = Pick<TreatmentFacts, 'recipe' | 'chargeSizeKg' | 'roast'>;

/**
 * What of a treatment's charge differs from what a batch was forecast with, in one note; nothing where it is the
 * same. The sheet goes by the treatment as it stands now, the forecast by what it was.
 */
export function recipeChanges(
  before: Charged,
  now: Charged,
  supplies: readonly Pick<SupplyFacts, 'id' | 'name'>[],
): Finding[] {
  const gramsIn = ({ recipe }: Charged, supplyId: string) =>
    new Dec(recipe.find((line) => line.supplyId === supplyId)?.gramsPerHundredG ?? '0');
  const supplyIds = [...new Set([...before.recipe, ...now.recipe].map((line) => line.supplyId))];
  const changes = supplyIds.flatMap((supplyId) => {
    const [was, is] = [gramsIn(before, supplyId), gramsIn(now, supplyId)];
    const name = supplies.find((supply) => supply.id === supplyId)?.name ?? 'a supply no longer on the list';
    return was.equals(is) ? [] : [`${name} from ${was.toFixed()} to ${is.toFixed()} g per 100 g`];
  });
  if (before.chargeSizeKg !== now.chargeSizeKg)
    changes.push(`the charge from ${before.chargeSizeKg} to ${now.chargeSizeKg} kg`);
  if (before.roast !== now.roast) changes.push(now.roast ? 'a roast added' : 'the roast left out');
  if (changes.length === 0) return [];
  return [
    {
      code: 'recipe-changed',
      level: 'note',
      path: '/treatment/recipe',
      sentence:
        `The treatment was changed since the batch was planned: ${changes.join('; ')}. This sheet goes by it as it ` +
        `is now, the frozen forecast by what it was.`,
    },
  ];
}
