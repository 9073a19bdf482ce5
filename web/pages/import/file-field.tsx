import { FieldFrame } from '../../parts/field-frame.tsx';
import { useField } from '../../parts/form-context.ts';

/** A file from this device; choosing the same one again after it was mended counts as a new choice. */
export function FileField(props: {
  label: string;
  hint: string;
  chosen: string | null;
  onChoose: (file: File) => void;
}) {
  const { label, hint, chosen, onChoose } = props;
  const state = useField({ label, pointer: undefined, hint, check: () => null });
  return (
    <FieldFrame kind="text" state={state} label={label} hint={hint} wide>
      <input
        id={state.id}
        type="file"
        accept=".csv,.txt,text/csv,text/plain"
        aria-describedby={state.describedBy}
        onClick={(event) => {
          event.currentTarget.value = '';
        }}
        onChange={(event) => {
          const [file] = event.target.files ?? [];
          if (file !== undefined) onChoose(file);
        }}
      />
      {chosen === null ? null : <span className="visually-hidden">{chosen} is chosen.</span>}
    </FieldFrame>
  );
}
