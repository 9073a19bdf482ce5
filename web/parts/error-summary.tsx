/** Puts the focus on a control, unfolding what it is folded into. */
function goTo(fieldId: string): void {
  const field = document.getElementById(fieldId);
  for (let fold = field?.closest('details'); fold != null; fold = fold.parentElement?.closest('details'))
    fold.open = true;
  field?.focus();
}

export interface SummaryLine {
  /** Id of the control to go to; null where the form has none for it. */
  fieldId: string | null;
  text: string;
}

/** What stands in the way of saving, each line leading to its field. */
export function ErrorSummary(props: { lines: readonly SummaryLine[] }) {
  return (
    <div className="error-summary" role="alert">
      <h2>Not saved yet</h2>
      <ul>
        {props.lines.map(({ fieldId, text }) => (
          <li key={`${fieldId ?? ''} ${text}`}>
            {fieldId === null ? (
              text
            ) : (
              <a
                href={`#${fieldId}`}
                onClick={(event) => {
                  event.preventDefault();
                  goTo(fieldId);
                }}
              >
                {text}
              </a>
            )}
          </li>
        ))}
      </ul>
    </div>
  );
}
