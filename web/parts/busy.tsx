import { useId } from 'react';

/** Work that takes a while: what is being done, how far it is, and a way to stop it. */
export function Busy(props: {
  label: string;
  /** 0 to 1; without it, how long it takes is not known. */
  done?: number;
  /** How far it is in words, such as `3 of 12 files`; without them, in percent. */
  doneWords?: string;
  onCancel?: () => void;
}) {
  const { label, done, doneWords, onCancel } = props;
  const labelId = useId();
  const percent = done === undefined ? null : Math.round(Math.min(1, Math.max(0, done)) * 100);
  return (
    <div className="busy">
      <p id={labelId} role="status">
        {label}
      </p>
      <progress aria-labelledby={labelId} max={100} value={percent ?? undefined} />
      {percent === null ? null : <span aria-hidden="true">{doneWords ?? `${percent} %`}</span>}
      {onCancel === undefined ? null : (
        <button type="button" onClick={onCancel}>
          Cancel
        </button>
      )}
    </div>
  );
}
