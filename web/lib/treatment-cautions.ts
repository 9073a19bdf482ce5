import { cautionsFor } from '../../api/calc/smelting/cautions.ts';
import type { Mineral } from '../../api/calc/smelting/minerals.ts';
import { isSulfide } from '../../api/calc/smelting/oxygen-balance.ts';
import type { SupplyFacts, TreatmentFacts } from '../../api/calc/facts/records.ts';

/** The cautions that belong to working a lot up by any of these treatments, each once. */
export function treatmentCautions(
  treatments: readonly Pick<TreatmentFacts, 'roast' | 'recipe'>[],
  supplies: readonly Pick<SupplyFacts, 'id' | 'name' | 'kind'>[],
  minerals: readonly { mineral: Mineral }[],
): string[] {
  const cautions = treatments.flatMap(({ roast, recipe }) => {
    const used = recipe.flatMap(({ supplyId }) => supplies.filter((supply) => supply.id === supplyId));
    const uses = (word: RegExp): boolean => used.some((supply) => word.test(supply.name));
    return cautionsFor({
      roast,
      arsenopyrite: minerals.some((one) => one.mineral === 'arsenopyrite'),
      sulfidesInMelt: !roast && minerals.some(({ mineral }) => isSulfide({ mineral, massFrac: 1 })),
      nitre: uses(/\bnitre\b|saltpet|nitrate/i),
      reducers: uses(/flour|charcoal|tartar|sugar|starch/i),
      lead: used.some((supply) => supply.kind === 'lead' || supply.kind === 'litharge'),
      nitricAcid: false,
      mercury: false,
    });
  });
  return [...new Map(cautions.map((caution) => [caution.code, caution.text])).values()];
}
