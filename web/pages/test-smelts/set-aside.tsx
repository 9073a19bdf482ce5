import { api, send } from '../../api.ts';
import type { TestSmeltRecord } from '../../../api/schemas/test-smelt.ts';
import { useBooksChanged } from '../../lib/bench-queries.ts';
import { at } from '../../lib/binding.ts';
import { useDraft } from '../../lib/drafts.ts';
import { Form } from '../../parts/form.tsx';
import { TextField } from '../../parts/text-field.tsx';

/** Leaves a test out of every mean and inference, with the reason, or takes it back; it stays in sight either way. */
export function SetAside(props: { record: TestSmeltRecord }) {
  const { record } = props;
  const booksChanged = useBooksChanged();
  const draft = useDraft(`test-smelt/${record.id}/set-aside`, { setAsideReason: '' });
  async function save(setAsideReason: string | null): Promise<void> {
    const { id, ...rest } = record;
    await send(api['test-smelts'][':id'].$put({ param: { id }, json: { ...rest, setAsideReason } }));
    draft.saved({ setAsideReason: '' });
    await booksChanged();
  }
  if (record.setAsideReason !== null)
    return (
      <Form
        sends="PUT /test-smelts/:id"
        label="Take the test back"
        saveLabel="Take it back: it counts again"
        onSave={() => save(null)}
      >
        <p>This test is set aside: {record.setAsideReason}</p>
      </Form>
    );
  return (
    <Form
      sends="PUT /test-smelts/:id"
      label="Set the test aside"
      saveLabel="Set it aside"
      onSave={() => save(draft.form.value.setAsideReason)}
    >
      <p>
        The test counts. Set it aside only for what went wrong with it (spilled, boiled over, mixed up), never
        because the result is not liked.
      </p>
      <TextField
        label="Why it does not count"
        required
        maxLength={500}
        {...at(draft.form, 'setAsideReason')}
      />
    </Form>
  );
}
