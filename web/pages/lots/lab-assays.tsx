import { useState } from 'react';
import { api, send } from '../../api.ts';
import { usualAssayUncertainty } from '../../../api/calc/assay/lab-assay.ts';
import type { LabAssay, Lot } from '../../../api/schemas/lot.ts';
import { useBooksChanged } from '../../lib/bench-queries.ts';
import { at } from '../../lib/binding.ts';
import { useDraft } from '../../lib/drafts.ts';
import { useFormat, useOwner } from '../../lib/owner.ts';
import type { Formatter } from '../../lib/format.ts';
import { decimalOf, numberOf } from '../../lib/parse-decimal.ts';
import { todayHere } from '../../lib/today.ts';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { ConfirmButton } from '../../parts/confirm-button.tsx';
import { DataTable } from '../../parts/data-table.tsx';
import { DateField } from '../../parts/date-field.tsx';
import { DraftNote } from '../../parts/draft-note.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { Form } from '../../parts/form.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import { TextField } from '../../parts/text-field.tsx';
import { CombinedAssays } from './combined-assays.tsx';
import { NewScreening } from './screening.tsx';
import { screeningText } from './screening-draft.ts';

/** Elements that a laboratory is asked for in a gold and silver concentrate, in the order of a certificate. */
const elements = [
  ['Au', 'gold'],
  ['Ag', 'silver'],
  ['Cu', 'copper'],
  ['Pb', 'lead'],
  ['Zn', 'zinc'],
  ['Fe', 'iron'],
  ['S', 'sulfur'],
  ['As', 'arsenic'],
  ['Sb', 'antimony'],
  ['Bi', 'bismuth'],
  ['Hg', 'mercury'],
  ['Se', 'selenium'],
  ['Te', 'tellurium'],
  ['Ni', 'nickel'],
  ['Cd', 'cadmium'],
  ['F', 'fluorine'],
  ['Cl', 'chlorine'],
  ['Si', 'silicon'],
] as const;

const emptyAssay = () => ({
  laboratory: '',
  certificate: '',
  assayedOn: todayHere(),
  method: '',
  element: '',
  unit: 'g/t' as LabAssay['unit'],
  value: '',
  standardUncertainty: '',
  sampleMassG: '',
});

/** The result with its ±, in the unit of the certificate; what the laboratory did not state is taken as is usual. */
function resultText(assay: LabAssay, format: Formatter): string {
  const unit = assay.unit === 'percent' ? '%' : 'g/t';
  const value = Number(assay.value);
  const u =
    assay.standardUncertainty === null
      ? usualAssayUncertainty({ value, unit })
      : Number(assay.standardUncertainty);
  const measured =
    assay.unit === 'g/t'
      ? format.measuredQuantity('gradeGpt', { value, u })
      : format.measured({ value, u }, unit);
  return assay.standardUncertainty === null ? `${measured} (usual ±)` : measured;
}

/** The laboratory's assays of a lot, with a form to add one. */
export function LabAssays(props: { lot: Lot }) {
  const { lot } = props;
  const format = useFormat();
  const booksChanged = useBooksChanged();
  const [adding, setAdding] = useState<'assay' | 'screening' | null>(null);
  return (
    <>
      <h2>Lab assays</h2>
      {lot.labAssays.length === 0 ? (
        <p>
          None yet. Without a lab assay of the lot the treatments compare well with each other, but what a
          buyer would pay for the concentrate stays uncertain.
        </p>
      ) : (
        <DataTable
          caption="Lab assays, dry basis, ± two standard uncertainties"
          narrow="stack"
          columns={[
            { key: 'element', label: 'Element', align: 'start' },
            { key: 'result', label: 'Result', align: 'end' },
            { key: 'laboratory', label: 'Laboratory', align: 'start' },
            { key: 'certificate', label: 'Certificate', align: 'start' },
            { key: 'on', label: 'Assayed on', align: 'start' },
            { key: 'remove', label: 'Remove', align: 'start' },
          ]}
          rows={lot.labAssays.map((assay) => ({
            key: assay.id,
            cells: {
              element: assay.element,
              result: resultText(assay, format),
              laboratory: assay.laboratory,
              certificate: [assay.certificate, assay.method].filter((text) => text !== '').join(', '),
              on: format.date(assay.assayedOn),
              remove: (
                <ConfirmButton
                  sends="DELETE /lots/:id/lab-assays/:assayId"
                  label={`Remove ${assay.element}`}
                  question={`The ${assay.element} assay of ${assay.laboratory}, ${assay.value} ${assay.unit}, will be gone.`}
                  confirmLabel="Remove the assay"
                  onConfirm={async () => {
                    await send(
                      api.lots[':id']['lab-assays'][':assayId'].$delete({
                        param: { id: lot.id, assayId: assay.id },
                      }),
                    );
                    await booksChanged();
                  }}
                />
              ),
            },
            detail: assay.screenMetallics === null ? '' : screeningText(assay.screenMetallics, format),
          }))}
        />
      )}
      <CombinedAssays lot={lot} />
      {adding === 'assay' ? <NewAssay lot={lot} close={() => setAdding(null)} /> : null}
      {adding === 'screening' ? <NewScreening lot={lot} close={() => setAdding(null)} /> : null}
      {adding !== null ? null : (
        <p className="actions">
          <button type="button" onClick={() => setAdding('assay')}>
            Add a lab assay
          </button>
          <button type="button" onClick={() => setAdding('screening')}>
            Add a screened assay
          </button>
        </p>
      )}
    </>
  );
}

function NewAssay(props: { lot: Lot; close: () => void }) {
  const { lot, close } = props;
  const owner = useOwner();
  const booksChanged = useBooksChanged();
  const draft = useDraft(`lot/${lot.id}/assay`, emptyAssay());
  const { form } = draft;
  const unit = form.value.unit === 'percent' ? '%' : 'g/t';
  return (
    <>
      <DraftNote state={draft.state} discard={draft.discard} />
      <Form
        sends="POST /lots/:id/lab-assays"
        draft={draft}
        label="New lab assay"
        saveLabel="Add this assay"
        buttons={
          <button type="button" onClick={close}>
            Close
          </button>
        }
        onSave={async () => {
          const { value, standardUncertainty, sampleMassG, ...rest } = form.value;
          await send(
            api.lots[':id']['lab-assays'].$post({
              param: { id: lot.id },
              json: {
                ...rest,
                value: decimalOf(value, owner) ?? '',
                standardUncertainty: decimalOf(standardUncertainty, owner),
                sampleMassG: numberOf(sampleMassG, owner),
              },
            }),
          );
          // The next element of the same certificate is usually typed straight after.
          draft.saved({ ...form.value, element: '', value: '', standardUncertainty: '' });
          await booksChanged();
        }}
      >
        <Fieldset legend="New lab assay" hint="One element at a time, as on the certificate, dry basis.">
          <TextField label="Laboratory" required maxLength={120} {...at(form, 'laboratory')} />
          <TextField label="Certificate" maxLength={120} {...at(form, 'certificate')} />
          <DateField label="Assayed on" required {...at(form, 'assayedOn')} />
          <TextField label="Method" maxLength={120} hint="For example fire assay." {...at(form, 'method')} />
          <ChoiceField
            label="Element"
            required
            choices={elements.map(([symbol, name]) => ({ value: symbol, label: `${symbol}, ${name}` }))}
            {...at(form, 'element')}
          />
          <ChoiceField
            label="Unit on the certificate"
            choices={[
              { value: 'g/t', label: 'g/t (ppm)' },
              { value: 'percent', label: '%' },
            ]}
            {...at(form, 'unit')}
          />
          <NumberField
            label="Result"
            unit={unit}
            required
            max={form.value.unit === 'percent' ? 100 : 1_000_000}
            decimals={8}
            {...at(form, 'value')}
          />
          <NumberField
            label="Standard uncertainty"
            unit={unit}
            decimals={8}
            hint="If the laboratory states ± at k = 2, half of it. Empty: what is usual for such a result."
            {...at(form, 'standardUncertainty')}
          />
          <NumberField
            label="Mass of the sample that was sent"
            unit="g"
            min={0.001}
            hint="A larger sample is a truer one: it tells how far this one may be off."
            {...at(form, 'sampleMassG')}
          />
        </Fieldset>
      </Form>
    </>
  );
}
