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
                  document.getElementById(fieldId)?.focus();
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
