/** Where work can hurt someone: what to mind, and whose word goes before this program's. */
export function Cautions(props: { cautions: readonly string[] }) {
  const { cautions } = props;
  if (cautions.length === 0) return null;
  return (
    <section className="cautions" aria-label="Cautions">
      <h2>Cautions</h2>
      <ul>
        {cautions.map((caution) => (
          <li key={caution}>{caution}</li>
        ))}
      </ul>
      <p>
        Local codes and permits, and the word of licensed assayers, engineers and safety officers, go before
        anything said here.
      </p>
    </section>
  );
}
