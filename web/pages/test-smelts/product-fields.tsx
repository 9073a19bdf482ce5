import { at } from '../../lib/binding.ts';
import type { Binding } from '../../lib/binding.ts';
import { Fieldset } from '../../parts/fieldset.tsx';
import { FindingList } from '../../parts/finding-list.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import { QuantityField } from '../../parts/quantity-field.tsx';
import type { LiveSmelt } from './live-smelt.ts';
import type { SmeltDraft } from './smelt-draft.ts';

/** What came out of the crucible. */
export function ProductFields(props: { form: Binding<SmeltDraft>; live: LiveSmelt }) {
  const { form, live } = props;
  return (
    <>
      <Fieldset
        legend="Out of the furnace"
        hint="Weigh each by itself, in grams. Empty is not weighed; 0 is weighed and there was none."
      >
        <NumberField label="Button" unit="g" hint="Cold, hammered free of slag." {...at(form, 'buttonG')} />
        <NumberField label="Matte and speiss" unit="g" {...at(form, 'matteG')} />
        <NumberField label="Slag" unit="g" {...at(form, 'slagG')} />
        {form.value.ironInG === '' ? null : (
          <NumberField
            label="Iron out"
            unit="g"
            hint="What is left of it, cleaned."
            {...at(form, 'ironOutG')}
          />
        )}
      </Fieldset>
      <ProductAssays form={form} />
      <div role="status">
        <FindingList label="About the products" findings={live.productFindings} />
      </div>
    </>
  );
}

/** What a laboratory found in matte and slag, where they were sent to one. */
function ProductAssays(props: { form: Binding<SmeltDraft> }) {
  const { form } = props;
  const { matteGoldGpt, matteSilverGpt, slagGoldGpt, slagSilverGpt } = form.value;
  const typed = [matteGoldGpt, matteSilverGpt, slagGoldGpt, slagSilverGpt].some((text) => text !== '');
  return (
    <details open={typed}>
      <summary>Lab assays of matte and slag</summary>
      <Fieldset
        legend="Assays of what was left behind"
        hint="They tell how much metal the matte and the slag kept. Empty is not assayed."
      >
        <QuantityField label="Gold in the matte" quantity="gradeGpt" {...at(form, 'matteGoldGpt')} />
        <QuantityField label="Silver in the matte" quantity="gradeGpt" {...at(form, 'matteSilverGpt')} />
        <QuantityField label="Gold in the slag" quantity="gradeGpt" {...at(form, 'slagGoldGpt')} />
        <QuantityField label="Silver in the slag" quantity="gradeGpt" {...at(form, 'slagSilverGpt')} />
      </Fieldset>
    </details>
  );
}

/** What the cupel and the acid left. */
export function BeadFields(props: { form: Binding<SmeltDraft>; live: LiveSmelt }) {
  const { form, live } = props;
  return (
    <>
      <Fieldset
        legend="Bead and gold"
        hint="In milligrams. A bead that is not parted gives gold and silver together."
      >
        <NumberField label="Bead" unit="mg" {...at(form, 'beadMg')} />
        <NumberField label="Parted gold" unit="mg" hint="Annealed and cold." {...at(form, 'partedGoldMg')} />
        <NumberField
          label="Silver added for parting"
          unit="mg"
          hint="Melted to the bead after it was weighed, where it had too little silver to part."
          {...at(form, 'inquartSilverMg')}
        />
      </Fieldset>
      <div role="status">
        <FindingList label="About bead and gold" findings={live.beadFindings} />
      </div>
      <Fieldset legend="Blank of the lead" hint="Silver that comes with the lead is taken off.">
        <NumberField
          label="Silver in the lead"
          unit="mg per g of lead"
          max={100}
          hint="From cupelling the lead alone; the same for all tests with this lead."
          {...at(form, 'blankMgPerLeadG')}
        />
        <NumberField
          label="Standard uncertainty of the blank"
          unit="mg per g of lead"
          max={100}
          hint="Empty: 30 % of it is taken."
          {...at(form, 'blankStandardUncertaintyMgPerLeadG')}
        />
      </Fieldset>
    </>
  );
}
