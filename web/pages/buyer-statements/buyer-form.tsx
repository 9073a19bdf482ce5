import { useNavigate } from '@tanstack/react-router';
import { Dec } from '../../../api/calc/money.ts';
import type { BuyerStatement } from '../../../api/schemas/buyer-statement.ts';
import type { Statement } from '../../../api/schemas/statement.ts';
import { api, send } from '../../api.ts';
import { useBooksChanged } from '../../lib/bench-queries.ts';
import { at } from '../../lib/binding.ts';
import { useDraft } from '../../lib/drafts.ts';
import { useFormat, useOwner } from '../../lib/owner.ts';
import { DateField } from '../../parts/date-field.tsx';
import { DraftNote } from '../../parts/draft-note.tsx';
import { Fieldset } from '../../parts/fieldset.tsx';
import { Form } from '../../parts/form.tsx';
import { MoneyField } from '../../parts/money-field.tsx';
import { TextField } from '../../parts/text-field.tsx';
import { draftOfRecord, entryOfBuyerDraft, rowsFor, startingBuyerDraft, typedSum } from './buyer-draft.ts';
import type { BuyerDraft } from './buyer-draft.ts';
import { ComparisonView } from './comparison-view.tsx';
import { FigureRows, MoneyRows } from './line-rows.tsx';
import { useLiveComparison } from './live-comparison.ts';
import { ReadTable } from './read-table.tsx';
import { editableText } from '../../lib/parse-decimal.ts';

const least = -999_999_999_999;

/** The other party's statement typed beside ours, the differences as they are typed, and what explains them. */
export function BuyerForm(props: {
  ours: Statement;
  /** Null for one that is not kept yet. */
  record: BuyerStatement | null;
  weAreOwed: boolean;
}) {
  const { ours, record, weAreOwed } = props;
  const { settlement } = ours;
  const owner = useOwner();
  const format = useFormat();
  const navigate = useNavigate();
  const booksChanged = useBooksChanged();
  const draft = useDraft(
    `buyer-statement/${record?.id ?? `of ${ours.id}`}`,
    record === null ? startingBuyerDraft(settlement) : draftOfRecord(record, settlement, owner),
  );
  const { form } = draft;
  const { entry, incomplete } = entryOfBuyerDraft(form.value, settlement, owner);
  const waiting = waitingWords(form.value, entry.lines.length, incomplete.length);
  const live = useLiveComparison(
    waiting === null ? { statementId: ours.id, lines: entry.lines, total: entry.total } : null,
  );
  const compared =
    live.comparison === null
      ? null
      : {
          comparison: live.comparison,
          partyName: ours.counterpartyName,
          theirNumber: form.value.number,
          ourNumber: ours.number,
          weAreOwed,
        };
  const sum = typedSum(form.value, settlement, owner);

  async function onSave(): Promise<void> {
    const kept = await (record === null
      ? send(api['buyer-statements'].$post({ json: { statementId: ours.id, ...entry } }))
      : send(
          api['buyer-statements'][':id'].$put({
            param: { id: record.id },
            json: { ...entry, version: record.version },
          }),
        ));
    draft.saved();
    await booksChanged();
    await navigate({
      to: '/settlements/$statementId/buyer',
      params: { statementId: ours.id },
      search: { theirs: kept.id },
      replace: true,
      resetScroll: false,
    });
  }

  return (
    <>
      <DraftNote state={draft.state} discard={draft.discard} />
      <ReadTable
        statementId={ours.id}
        ours={settlement}
        onTake={(read) =>
          form.update((before) => ({
            ...before,
            lines: rowsFor(settlement, read.lines, owner),
            total: read.total === null ? before.total : editableText(read.total, owner),
          }))
        }
      />
      <Form
        sends="POST /buyer-statements"
        draft={draft}
        saveLabel={record === null ? 'Keep their statement' : 'Save the changes'}
        onSave={onSave}
        buttons={
          record === null ? null : draft.changed ? (
            <span className="form-remark">Save before you print.</span>
          ) : (
            <a className="button" href={`/api/buyer-statements/${record.id}/comparison.pdf`}>
              Report to print and send (PDF)
            </a>
          )
        }
      >
        <Fieldset legend="Their statement">
          <TextField label="Their number" required maxLength={60} {...at(form, 'number')} />
          <DateField label="Dated" required {...at(form, 'datedOn')} />
          <MoneyField
            label="Their total"
            currency={settlement.currency}
            decimals={settlement.moneyDecimals}
            min={least}
            required
            hint={`Ours ${format.money(settlement.total, settlement.currency)}`}
            {...at(form, 'total')}
          />
        </Fieldset>
        <MoneyRows form={form} ours={settlement} />
        <p role="status" className="typed-sum">
          Amounts typed so far add up to {format.money(sum, settlement.currency)}
          {sumWords(sum, entry.total, incomplete, (amount) => format.money(amount, settlement.currency))}
        </p>
        <FigureRows form={form} ours={settlement} />
        <TextField label="Remarks" lines={2} maxLength={2000} {...at(form, 'remarks')} />
      </Form>
      <ComparisonView live={live} compared={compared} waiting={waiting} />
      <div className="live-bar" aria-busy={live.stale && waiting === null}>
        <a href="#comparison-heading">How they stand</a>
        <p>
          {waiting !== null || compared === null ? (
            'Not compared yet'
          ) : (
            <>
              Theirs less ours{' '}
              <strong>{format.money(compared.comparison.difference, settlement.currency)}</strong>
            </>
          )}
        </p>
      </div>
    </>
  );
}

/** What is still to be typed before the two can be held against each other; null where nothing is. */
function waitingWords(draft: BuyerDraft, lines: number, incomplete: number): string | null {
  if (draft.total.trim() === '') return 'Type their total, and their lines as far as they print them.';
  if (incomplete > 0)
    return `${incomplete === 1 ? 'One field' : `${incomplete} fields`} cannot be read or ${incomplete === 1 ? 'is' : 'are'} still empty.`;
  return lines === 0 ? 'Type their lines beside ours.' : null;
}

function sumWords(
  sum: string,
  total: string,
  incomplete: readonly string[],
  money: (amount: string) => string,
): string {
  if (incomplete.includes('/total')) return '.';
  const missing = new Dec(total).minus(sum);
  return missing.isZero()
    ? ', which is their total.'
    : `; to their total ${money(missing.toFixed())} are missing.`;
}
