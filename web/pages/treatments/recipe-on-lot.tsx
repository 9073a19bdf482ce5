import { useState } from 'react';
import { Link } from '@tanstack/react-router';
import { mineralShares } from '../../../api/calc/facts/check-charge.ts';
import { adviceLotMassG } from '../../../api/calc/smelting/advised-amount.ts';
import type { RecipeLine } from '../../../api/calc/smelting/charge-sheet-input.ts';
import { reagentMasses, reagentOfLine } from '../../../api/calc/smelting/charge-sheet-input.ts';
import { treatmentFindings } from '../../../api/calc/smelting/recipe-adviser.ts';
import { workRecipe } from '../../../api/calc/smelting/recipe-work.ts';
import type { Lot } from '../../../api/schemas/lot.ts';
import type { Supply } from '../../../api/schemas/supply.ts';
import { useOwner } from '../../lib/owner.ts';
import type { OwnerChoices } from '../../lib/owner.ts';
import { parseDecimal } from '../../lib/parse-decimal.ts';
import { useAsked } from '../../lib/use-asked.ts';
import { useLots } from '../../lib/use-lots.ts';
import { FindingList } from '../../parts/finding-list.tsx';
import { RecipeEffect } from '../advice/recipe-effect.tsx';
import { LotField } from '../lots/lot-field.tsx';
import type { TreatmentDraft } from './treatment-draft.ts';

/** The lines of a typed recipe that can be read. */
function linesOf(draft: TreatmentDraft, supplies: readonly Supply[], owner: OwnerChoices): RecipeLine[] {
  return draft.recipe.flatMap(({ supplyId, gramsPerHundredG }): RecipeLine[] => {
    const supply = supplies.find(({ id }) => id === supplyId);
    const parsed = parseDecimal(gramsPerHundredG, owner);
    if (supply === undefined || !parsed.ok || parsed.decimal === null || !(Number(parsed.decimal) > 0))
      return [];
    return [{ supplyId, name: supply.name, kind: supply.kind, gramsPerHundredG: parsed.decimal }];
  });
}

/** What a treatment's recipe, as it is typed, will do to a lot. */
export function RecipeOnLot(props: { draft: TreatmentDraft; supplies: readonly Supply[] }) {
  const { draft, supplies } = props;
  const owner = useOwner();
  const [chosen, setChosen] = useState(useAsked('lot'));
  const from = useLots([chosen]);
  const { lots } = from;
  const named = lots.filter(({ minerals }) => minerals.length > 0);
  const lot =
    named.find(({ id, code }) => id === chosen || code === chosen) ??
    named.find(({ leftKg }) => Number(leftKg) > 0) ??
    named[0];
  const lines = linesOf(draft, supplies, owner);
  const unknown = lines.filter((line) => reagentOfLine(line) === null).map(({ name }) => name);
  return (
    <>
      <h2>What the recipe will do</h2>
      {lot === undefined ? (
        <p>
          This follows once the minerals of a lot are named. <Link to="/lots">All lots</Link>
        </p>
      ) : (
        <>
          <div className="fields">
            <LotField
              label="With lot"
              value={lot.id}
              onChange={setChosen}
              from={from}
              only={({ minerals }) => minerals.length > 0}
            />
          </div>
          {lines.length === 0 ? (
            <p>It follows as the recipe is typed.</p>
          ) : (
            <Effect lot={lot} lines={lines} roast={draft.roast} crucibles={cruciblesOf(draft, supplies)} />
          )}
          {unknown.length === 0 ? null : (
            <p>Left out, because what it does in a charge is not known: {unknown.join(', ')}.</p>
          )}
          <p>
            <Link to="/treatments/advice" search={{ lot: lot.id, way: draft.roast ? 'roasted' : 'as it is' }}>
              Propose a recipe for {lot.code}
            </Link>
          </p>
        </>
      )}
    </>
  );
}

const cruciblesOf = ({ crucibleSupplyId }: TreatmentDraft, supplies: readonly Supply[]): Supply[] =>
  supplies.filter(({ id }) => id === crucibleSupplyId);

function Effect(props: {
  lot: Lot;
  lines: readonly RecipeLine[];
  roast: boolean;
  crucibles: readonly Supply[];
}) {
  const { lot, lines, roast, crucibles } = props;
  const minerals = mineralShares(lot);
  const reagents = reagentMasses(lines, adviceLotMassG);
  const treatment = roast ? 'roasted' : wayOf(lines);
  const work = workRecipe({ minerals, lotMassG: adviceLotMassG, reagents, sulfurRoastedFrac: roast ? 1 : 0 });
  return (
    <>
      <RecipeEffect work={work} reagents={reagents} lotCode={lot.code} crucibles={crucibles} />
      <FindingList findings={[...treatmentFindings({ minerals, treatment }, work), ...work.findings]} />
    </>
  );
}

/** The way that a recipe without a roast works: what it oxidizes or desulfurizes with. */
function wayOf(lines: readonly RecipeLine[]): 'oxidizing' | 'iron' | 'as it is' {
  const reagents = new Set(lines.map(reagentOfLine));
  if (reagents.has('nitre')) return 'oxidizing';
  return reagents.has('iron') ? 'iron' : 'as it is';
}
