import type { RecipeWork } from '../../../api/calc/smelting/recipe-work.ts';
import { Dec } from '../../../api/calc/money.ts';
import type { Supply } from '../../../api/schemas/supply.ts';
import type { Treatment } from '../../../api/schemas/treatment.ts';
import { at } from '../../lib/binding.ts';
import type { Binding } from '../../lib/binding.ts';
import { useFormat, useOwner } from '../../lib/owner.ts';
import { editableText, parseDecimal } from '../../lib/parse-decimal.ts';
import { CheckField } from '../../parts/check-field.tsx';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { Facts } from '../../parts/facts.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { FindingList } from '../../parts/finding-list.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import { QuantityField } from '../../parts/quantity-field.tsx';
import { RowsField } from '../../parts/rows-field.tsx';
import { TextField } from '../../parts/text-field.tsx';
import type { LiveSmelt } from './live-smelt.ts';
import { recipeCharge } from './recipe-charge.ts';
import type { RecipeCharge } from './recipe-charge.ts';
import { isNew } from './smelt-draft.ts';
import type { SmeltDraft } from './smelt-draft.ts';

/** The roast, where there was one: weighed before and after. */
export function RoastFields(props: { form: Binding<SmeltDraft> }) {
  const { form } = props;
  return (
    <Fieldset legend="Roast">
      <CheckField label="The sample was roasted first" {...at(form, 'roasted')} />
      {form.value.roasted ? (
        <>
          <NumberField
            label="Mass before the roast"
            unit="g"
            hint="As received; usually the sample mass."
            {...at(form, 'massBeforeRoastG')}
          />
          <NumberField
            label="Mass after the roast"
            unit="g"
            hint="Calcine, cold, with what stuck to the pan."
            {...at(form, 'massAfterRoastG')}
          />
          <NumberField label="Time in the roast" unit="h" max={200} {...at(form, 'roastHours')} />
          <QuantityField label="Roast temperature" quantity="tempC" {...at(form, 'roastTempC')} />
        </>
      ) : null}
    </Fieldset>
  );
}

/** The recipe for the sample mass as typed; null while there is none, or the mass cannot be read. */
function useRecipe(props: {
  form: Binding<SmeltDraft>;
  treatment: Treatment | null;
  supplies: readonly Supply[];
  stepG: string;
}): RecipeCharge | null {
  const { form, treatment, supplies, stepG } = props;
  const owner = useOwner();
  const sample = parseDecimal(form.value.sampleMassG, owner);
  if (treatment === null || !sample.ok || sample.decimal === null || new Dec(sample.decimal).lte(0))
    return null;
  return recipeCharge({ treatment, supplies, sampleMassG: sample.decimal, stepG });
}

/** What goes into the crucible, against the recipe, and what can be said of it before it is melted. */
export function ChargeFields(props: {
  form: Binding<SmeltDraft>;
  treatment: Treatment | null;
  supplies: readonly Supply[];
  /** The step of the balance that weighs the charge. */
  stepG: string;
  live: LiveSmelt;
}) {
  const { form, treatment, supplies, live } = props;
  const owner = useOwner();
  const recipe = useRecipe(props);
  const wanted = (massG: string | null | undefined): string | undefined =>
    massG === null || massG === undefined ? undefined : `Recipe: ${editableText(massG, owner)} g.`;
  const taken = new Set(form.value.reagents.map((one) => one.supplyId));
  const choices = supplies
    .filter(({ kind }) => kind === 'reagent' || kind === 'litharge' || kind === 'other')
    .map(({ id, name }) => ({ value: id, label: name }));
  return (
    <>
      <Fieldset legend="Charge" hint="In grams, as the balance showed them. Empty is not weighed; 0 is none.">
        {treatment === null ? null : (
          <div className="wide">
            {recipe === null ? (
              <p className="muted">
                With the sample mass, the recipe of {treatment.name} can be filled in here.
              </p>
            ) : (
              <button
                type="button"
                onClick={() =>
                  form.update((draft) => ({
                    ...draft,
                    roasted: treatment.roast,
                    massBeforeRoastG:
                      treatment.roast && draft.massBeforeRoastG === ''
                        ? draft.sampleMassG
                        : draft.massBeforeRoastG,
                    reagents: recipe.reagents.map(({ supplyId, massG }) => ({
                      supplyId,
                      newName: '',
                      massG: editableText(massG, owner),
                    })),
                    collectorLeadG: editableText(recipe.collectorLeadG ?? '0', owner),
                    ironInG: editableText(recipe.ironInG, owner),
                  }))
                }
              >
                Fill in the recipe: {treatment.name}
              </button>
            )}
          </div>
        )}
        <NumberField
          label="Collector lead"
          unit="g"
          hint={wanted(recipe?.collectorLeadG) ?? 'Metal; litharge is a reagent. 0 where there was none.'}
          {...at(form, 'collectorLeadG')}
        />
        <NumberField label="Iron in" unit="g" hint={wanted(recipe?.ironInG)} {...at(form, 'ironInG')} />
        <NumberField
          label="Crucible volume"
          unit="mL"
          min={0.001}
          hint="To the brim, with water. It tells whether the charge may boil over."
          {...at(form, 'crucibleVolumeMl')}
        />
      </Fieldset>
      <div className="bench-charge">
        <RowsField
          legend="Reagents"
          hint={
            recipe === null
              ? undefined
              : 'Set every mass to what the balance showed; a recipe is not a weighing.'
          }
          rows={at(form, 'reagents')}
          newRow={() => ({ supplyId: choices.length === 0 ? isNew : '', newName: '', massG: '' })}
          rowName="reagent"
          max={40}
        >
          {(row) => (
            <>
              <ChoiceField
                label="Reagent"
                required
                choices={[
                  ...choices.filter(({ value }) => value === row.value.supplyId || !taken.has(value)),
                  { value: isNew, label: 'Another' },
                ]}
                {...at(row, 'supplyId')}
              />
              <NumberField
                label="Mass"
                unit="g"
                required
                min={0.0001}
                hint={wanted(recipe?.reagents.find((one) => one.supplyId === row.value.supplyId)?.massG)}
                {...at(row, 'massG')}
              />
              {row.value.supplyId === isNew ? (
                <TextField
                  label="Name of the reagent"
                  required
                  maxLength={120}
                  hint="For example soda ash, borax, silica, nitre, litharge. It joins the supplies."
                  {...at(row, 'newName')}
                />
              ) : null}
            </>
          )}
        </RowsField>
      </div>
      <div role="status">
        <FindingList label="About the weighings" findings={live.chargeFindings} />
        <Foreseen live={live} />
      </div>
    </>
  );
}

/** The check of the charge: in sight until it is melted, then folded away. */
function Foreseen(props: { live: LiveSmelt }) {
  const { chargeWork, foreseen, melted } = props.live;
  if (chargeWork === null && foreseen.length === 0) return null;
  const check = (
    <>
      {chargeWork === null ? null : <Expected work={chargeWork} />}
      <FindingList label="About the charge" findings={foreseen} />
    </>
  );
  return melted ? (
    <details>
      <summary>What was to be expected of this charge</summary>
      {check}
    </details>
  ) : (
    <>
      <h3>To be expected of this charge</h3>
      {check}
    </>
  );
}

/** What the charge will do, as far as stoichiometry and common practice can tell. */
function Expected(props: { work: RecipeWork }) {
  const { work } = props;
  const format = useFormat();
  const { low, high } = work.matte.matteG;
  const lithargeG = work.oxygen.leadReducedG + work.oxygen.lithargeToSlagG;
  const grams = (value: number): string => format.number(value, value < 10 ? 1 : 0);
  return (
    <Facts
      facts={[
        {
          label: 'Fills the crucible to',
          value:
            work.volume.fillFrac === null
              ? `${format.number(work.volume.bulkVolumeMl.value, 0)} mL loose; the crucible’s volume is not given`
              : `${format.percent(work.volume.fillFrac, 0)}; two thirds at most`,
        },
        ...(lithargeG === 0
          ? []
          : [{ label: 'Lead reduced from litharge', value: `about ${grams(work.oxygen.leadReducedG)} g` }]),
        {
          label: 'Matte',
          value: high < 0.5 ? 'hardly any' : `${grams(low)} to ${grams(high)} g`,
        },
        {
          label: 'Silicate degree of the slag',
          value:
            work.silicateDegree === null
              ? 'not known'
              : `${format.number(work.silicateDegree, 1)}; 1 to 2 is usual`,
        },
      ]}
    />
  );
}
