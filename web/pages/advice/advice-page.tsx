import { useSuspenseQuery } from '@tanstack/react-query';
import { Link } from '@tanstack/react-router';
import { mineralShares } from '../../../api/calc/facts/check-charge.ts';
import { adviceLotMassG } from '../../../api/calc/smelting/advised-amount.ts';
import type { AdviceWanted } from '../../../api/calc/smelting/advised-amount.ts';
import type { ReagentMasses } from '../../../api/calc/smelting/oxygen-balance.ts';
import { inOwnReagents } from '../../../api/calc/smelting/own-reagents.ts';
import type { Reagent } from '../../../api/calc/smelting/reagents.ts';
import { reagentNames } from '../../../api/calc/smelting/reagents.ts';
import { adviseRecipe, treatmentFindings } from '../../../api/calc/smelting/recipe-adviser.ts';
import { workRecipe } from '../../../api/calc/smelting/recipe-work.ts';
import type { Lot } from '../../../api/schemas/lot.ts';
import type { Supply } from '../../../api/schemas/supply.ts';
import { suppliesQuery } from '../../lib/bench-queries.ts';
import { useOwner } from '../../lib/owner.ts';
import { useLots, type LotsAtHand } from '../../lib/use-lots.ts';
import { useSearchState } from '../../lib/use-search-state.ts';
import { FindingList } from '../../parts/finding-list.tsx';
import { IfOpen } from '../../parts/if-open.tsx';
import { Lead } from '../../parts/lead.tsx';
import { Page } from '../../parts/page.tsx';
import type { Advice } from './advice-address.ts';
import { amountsOf, startingAdvice, wantedOf } from './advice-address.ts';
import { AdviceAmounts } from './advice-amounts.tsx';
import { AdviceAsk } from './advice-ask.tsx';
import { reagentWord } from './advice-words.ts';
import { ownReagents } from './own-reagents.ts';
import { RecipeCautions } from './recipe-cautions.tsx';
import { RecipeEffect } from './recipe-effect.tsx';
import { recipeText } from './recipe-text.ts';

/** A first recipe for a lot, number by number with its reason, and what it will do as it is changed. */
export function AdvicePage() {
  const { data: supplies } = useSuspenseQuery(suppliesQuery);
  const what = useSearchState(startingAdvice);
  const from = useLots([what.values.lot]);
  const { lots } = from;
  const named = lots.filter(({ minerals }) => minerals.length > 0);
  const lot =
    lots.find(({ id }) => id === what.values.lot) ??
    named.find(({ leftKg }) => Number(leftKg) > 0) ??
    named[0] ??
    lots[0];
  return (
    <Page title="Propose a recipe">
      <Lead>
        From the minerals of a lot Poursheet reckons what its charge should hold, and says why. Test it small:
        crucible, heat and grain decide the rest.
      </Lead>
      {lot === undefined ? (
        <p>
          A recipe is proposed for a lot, and none is entered yet. <Link to="/lots/new">Enter a lot</Link>{' '}
          with its minerals.
        </p>
      ) : (
        <LotAdvice from={from} lot={lot} supplies={supplies} values={what.values} set={what.set} />
      )}
    </Page>
  );
}

function LotAdvice(props: {
  from: LotsAtHand;
  lot: Lot;
  supplies: readonly Supply[];
  values: Advice;
  set: (name: keyof Advice, value: string) => void;
}) {
  const { from, lot, supplies, values, set } = props;
  const owner = useOwner();
  const own = ownReagents(supplies);
  const wanted = wantedOf(values, mineralShares(lot), owner);
  const backToProposal = (): void => {
    for (const reagent of reagentNames) set(reagent, '');
  };
  return (
    <>
      <AdviceAsk
        from={from}
        lot={lot}
        values={values}
        set={set}
        setWay={(name, value) => {
          set(name, value);
          backToProposal();
        }}
      />
      {wanted === null ? (
        <p>The proposal follows once every number above can be read.</p>
      ) : (
        <Proposal
          wanted={wanted}
          lot={lot}
          own={own}
          crucibles={supplies.filter(({ kind }) => kind === 'crucible')}
          values={values}
          set={set}
          reset={backToProposal}
        />
      )}
    </>
  );
}

function Proposal(props: {
  wanted: AdviceWanted;
  lot: Lot;
  own: ReadonlyMap<Reagent, Supply>;
  crucibles: readonly Supply[];
  values: Advice;
  set: (name: keyof Advice, value: string) => void;
  reset: () => void;
}) {
  const { wanted, lot, own, crucibles, values, set, reset } = props;
  const owner = useOwner();
  const advice = adviseRecipe(wanted);
  if (advice.work === null)
    return (
      <>
        <FindingList findings={advice.findings} />
        <p>
          <Link to="/lots/$lotId/edit" params={{ lotId: lot.id }}>
            Name the minerals of {lot.code}
          </Link>
        </p>
      </>
    );
  const proposed = inOwnReagents(advice.amounts, new Set(own.keys()));
  const { grams, unread } = amountsOf(values, proposed, owner);
  const reagents: ReagentMasses = Object.fromEntries(
    [...grams].map(([reagent, decimal]) => [reagent, Number(decimal)]),
  );
  const roasted = wanted.treatment === 'roasted';
  const work = workRecipe({
    minerals: wanted.minerals,
    lotMassG: adviceLotMassG,
    reagents,
    sulfurRoastedFrac: roasted ? (wanted.sulfurRoastedFrac ?? 1) : 0,
    measuredReducingPower: wanted.measuredReducingPower ?? null,
  });
  return (
    <>
      <FindingList findings={treatmentFindings(wanted, work)} label="Against this treatment" />
      <AdviceAmounts
        proposed={proposed}
        own={own}
        values={values}
        set={set}
        changed={reagentNames.some((reagent) => values[reagent] !== '')}
        reset={reset}
      />
      <h2>What it will do</h2>
      {unread.length > 0 ? (
        <p>This follows once these can be read: {unread.map(reagentWord).join(', ')}.</p>
      ) : (
        <>
          <RecipeEffect work={work} reagents={reagents} lotCode={lot.code} crucibles={crucibles} />
          <FindingList findings={work.findings} />
          <p className="actions">
            <IfOpen change="POST /treatments">
              <Link
                className="button"
                to="/treatments/new"
                search={{ way: wanted.treatment, lot: lot.code, recipe: recipeText(grams) }}
              >
                Make a treatment of it
              </Link>
            </IfOpen>
          </p>
        </>
      )}
      <RecipeCautions roast={roasted} reagents={reagents} minerals={wanted.minerals} />
    </>
  );
}
