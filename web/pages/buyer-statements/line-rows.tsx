import { useRef } from 'react';
import type {
  Settlement,
  SettlementLine,
  SettlementSection,
} from '../../../api/calc/settlement/statement.ts';
import { answerableLines } from '../../../api/calc/settlement/match-lines.ts';
import { SECTION_WORDS } from '../../../reports/model/statement-words.ts';
import { Dec } from '../../../api/calc/money.ts';
import { at, items } from '../../lib/binding.ts';
import type { Binding } from '../../lib/binding.ts';
import { useFormat, useOwner } from '../../lib/owner.ts';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { MoneyField } from '../../parts/money-field.tsx';
import { NumberField } from '../../parts/number-field.tsx';
import { TextField } from '../../parts/text-field.tsx';
import { isMoneyRow, isSent, newTheirLine, rowDifference, sentPointer } from './buyer-draft.ts';
import type { BuyerDraft, TheirLineDraft } from './buyer-draft.ts';

const least = -999_999_999_999;

interface Row {
  row: Binding<TheirLineDraft>;
  our: SettlementLine | undefined;
}

/** Rows as they are shown, each with the line of ours that it answers to and its place in what is sent. */
function rowsOf(form: Binding<BuyerDraft>, ours: Settlement): Row[] {
  const byId = new Map(ours.lines.map((line) => [line.id, line]));
  return items(at(form, 'lines')).map((row, place) => ({
    row: { ...row, pointer: sentPointer(form.value, place, ours) ?? `/unsent/${place}` },
    our: byId.get(row.value.lineId),
  }));
}

/** Every money line of ours with theirs typed beside it, then what they have and we have not. */
export function MoneyRows(props: { form: Binding<BuyerDraft>; ours: Settlement }) {
  const { form, ours } = props;
  const addRef = useRef<HTMLButtonElement>(null);
  const rows = rowsOf(form, ours).filter(({ row }) => isMoneyRow(row.value, ours));
  const sections = [...new Set(rows.flatMap(({ our }) => (our === undefined ? [] : [our.section])))];
  const others = rows.filter(({ our }) => our === undefined);
  return (
    <fieldset className="their-lines">
      <legend>Their amounts beside ours</legend>
      <p className="fieldset-hint">
        Deductions take a minus, as on ours. Leave empty what they do not print.
      </p>
      <Heads />
      {sections.map((section) => (
        <RowGroup
          key={section}
          heading={SECTION_WORDS[section]}
          rows={rows.filter(({ our }) => our?.section === section)}
          ours={ours}
        />
      ))}
      <h3>Lines that ours does not have</h3>
      {others.map(({ row }, index) => (
        <OtherRow
          key={index}
          number={index + 1}
          row={row}
          ours={ours}
          remove={() => {
            at(form, 'lines').update((list) => list.filter((one) => one !== row.value));
            addRef.current?.focus();
          }}
        />
      ))}
      <button
        type="button"
        ref={addRef}
        onClick={() => at(form, 'lines').update((list) => [...list, newTheirLine()])}
      >
        Add a line of theirs
      </button>
    </fieldset>
  );
}

function Heads() {
  return (
    <div className="their-line their-line-heads" aria-hidden="true">
      <span>Line</span>
      <span>Ours</span>
      <span>Theirs</span>
      <span>Theirs less ours</span>
    </div>
  );
}

function RowGroup(props: { heading: string; rows: readonly Row[]; ours: Settlement }) {
  const { heading, rows, ours } = props;
  return (
    <>
      <h3>{heading}</h3>
      {rows.map(({ row, our }, index) =>
        our === undefined ? null : <OneRow key={`${our.id} ${index}`} row={row} our={our} ours={ours} />,
      )}
    </>
  );
}

/** A line of ours with the field for theirs and the difference as it is typed. */
function OneRow(props: { row: Binding<TheirLineDraft>; our: SettlementLine; ours: Settlement }) {
  const { row, our, ours } = props;
  const owner = useOwner();
  const format = useFormat();
  const isMoney = our.amount !== null;
  const unit = isMoney ? ours.currency : (our.result?.unit ?? '');
  const figure = isMoney ? our.amount : (our.result?.value ?? null);
  const difference = rowDifference(row.value, our, owner);
  const same = difference !== null && new Dec(difference).isZero();
  const isReworded = row.value.label !== our.label;
  // Where both say the same there is no more to be said of a line.
  const hasMore =
    isMoney && ((difference !== null && !same) || isReworded || row.value.quantity.trim() !== '');
  return (
    <div className="their-line" role="group" aria-label={our.label}>
      <span className="their-line-name">
        {our.label}
        {isReworded ? <span className="their-line-wording"> theirs: {row.value.label}</span> : null}
      </span>
      <span className="their-line-ours">
        <span className="their-line-word">Ours </span>
        {figure === null ? '' : format.money(figure, unit)}
      </span>
      {isMoney ? (
        <MoneyField
          label="Theirs"
          currency={ours.currency}
          decimals={ours.moneyDecimals}
          min={least}
          required={row.value.quantity.trim() !== ''}
          {...at(row, 'amount')}
        />
      ) : (
        <NumberField label="Theirs" unit={unit} min={least} decimals={8} {...at(row, 'quantity')} />
      )}
      <span className={same ? 'their-line-difference' : 'their-line-difference differs'}>
        {difference === null ? null : (
          <>
            <span className="their-line-word">Difference </span>
            {same ? 'same' : format.money(difference, unit)}
          </>
        )}
      </span>
      {hasMore ? <RowDetails row={row} our={our} ours={ours} /> : null}
    </div>
  );
}

/** What is seldom needed: their wording, the quantity that they print, another line of ours. */
function RowDetails(props: { row: Binding<TheirLineDraft>; our: SettlementLine; ours: Settlement }) {
  const { row, our, ours } = props;
  return (
    <details className="their-line-more">
      <summary>More of this line</summary>
      <div className="fields">
        <TextField
          label="Their words"
          required={isSent(row.value, ours)}
          maxLength={200}
          {...at(row, 'label')}
        />
        <NumberField
          label="Their quantity"
          unit={our.quantity?.unit ?? ''}
          hint={our.quantity === null ? undefined : `Ours ${our.quantity.value} ${our.quantity.unit}`}
          min={least}
          decimals={8}
          {...at(row, 'quantity')}
        />
        <AnswersTo row={row} ours={ours} />
      </div>
    </details>
  );
}

function OtherRow(props: {
  number: number;
  row: Binding<TheirLineDraft>;
  ours: Settlement;
  remove: () => void;
}) {
  const { number, row, ours, remove } = props;
  return (
    <div className="their-other" role="group" aria-label={`Line of theirs ${number}`}>
      <div className="fields">
        <TextField label="Their words" required maxLength={200} {...at(row, 'label')} />
        <MoneyField
          label="Theirs"
          currency={ours.currency}
          decimals={ours.moneyDecimals}
          min={least}
          required={isSent(row.value, ours)}
          {...at(row, 'amount')}
        />
        <AnswersTo row={row} ours={ours} />
      </div>
      <button type="button" className="plain" onClick={remove}>
        Remove line {number}
      </button>
    </div>
  );
}

function AnswersTo(props: { row: Binding<TheirLineDraft>; ours: Settlement }) {
  const { row, ours } = props;
  return (
    <ChoiceField
      label="Answers to our line"
      none="None of ours"
      choices={answerableLines(ours).map(({ id, label, section }) => ({
        value: id,
        label: `${SECTION_WORDS[section]}: ${label}`,
      }))}
      {...at(row, 'lineId')}
    />
  );
}

const FIGURES: SettlementSection[] = ['weights', 'assays', 'prices'];

/** Weights, assays and prices: what they print of these names a cause sooner than the money does. */
export function FigureRows(props: { form: Binding<BuyerDraft>; ours: Settlement }) {
  const { form, ours } = props;
  const rows = rowsOf(form, ours).filter(({ row }) => !isMoneyRow(row.value, ours));
  const typed = rows.filter(({ row }) => row.value.quantity.trim() !== '').length;
  return (
    <details className="folded" open={typed > 0 ? true : undefined}>
      <summary>Weights, assays and prices that they print</summary>
      <p className="fieldset-hint">
        As far as their statement shows them. They name a cause sooner than the money alone does.
      </p>
      <div className="their-lines">
        <Heads />
        {FIGURES.map((section) => {
          const own = rows.filter(({ our }) => our?.section === section);
          return own.length === 0 ? null : (
            <RowGroup key={section} heading={SECTION_WORDS[section]} rows={own} ours={ours} />
          );
        })}
      </div>
    </details>
  );
}
