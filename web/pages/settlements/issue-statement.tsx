import { useRef, useState } from 'react';
import { api, send } from '../../api.ts';
import type { Statement } from '../../../api/schemas/statement.ts';
import { useBooksChanged } from '../../lib/bench-queries.ts';
import { useFormat } from '../../lib/owner.ts';
import { todayHere } from '../../lib/today.ts';
import { DateField } from '../../parts/date-field.tsx';
import { Form } from '../../parts/form.tsx';
import { Notice } from '../../parts/notice.tsx';
import { otherDaySentence, usualIssueDay } from './issue-day.ts';

/** Issues a draft, after asking: from then on it has a number and is never altered. */
export function IssueStatement(props: { statement: Statement }) {
  const { statement } = props;
  const booksChanged = useBooksChanged();
  const dialog = useRef<HTMLDialogElement>(null);
  const format = useFormat();
  const drawnUpOn = statement.entry.dates.statementOn;
  const [issuedOn, setIssuedOn] = useState(usualIssueDay(drawnUpOn, todayHere()));
  const otherDay = otherDaySentence({ drawnUpOn, issuedOn }, format.date);
  return (
    <>
      <button type="button" className="primary" onClick={() => dialog.current?.showModal()}>
        Issue this statement
      </button>
      <dialog ref={dialog} className="confirm" aria-label="Issue this statement">
        <p>
          Once issued it has a number and cannot be altered or taken back. Should anything be wrong, another
          statement follows it and names it.
        </p>
        <Form
          sends="POST /statements/:id/issue"
          label="Issue this statement"
          saveLabel="Issue it"
          savingLabel="Issuing"
          buttons={
            <button type="button" onClick={() => dialog.current?.close()}>
              Not yet
            </button>
          }
          onSave={async () => {
            await send(
              api.statements[':id'].issue.$post({
                param: { id: statement.id },
                json: { version: statement.version, issuedOn },
              }),
            );
            dialog.current?.close();
            await booksChanged();
          }}
        >
          <div className="fields">
            <DateField
              label="Issued on"
              required
              pointer="/issuedOn"
              max={todayHere()}
              value={issuedOn}
              onChange={setIssuedOn}
            />
            {otherDay === null ? null : <Notice level="note">{otherDay}</Notice>}
          </div>
        </Form>
      </dialog>
    </>
  );
}
