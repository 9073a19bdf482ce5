import { useEffect, useRef } from 'react';
import type { ReactNode } from 'react';

/** Enter goes to the next field: at the bench it ends a number, and must not send a half-weighed test. */
function toNextField(event: KeyboardEvent): void {
  const part = event.currentTarget;
  if (event.key !== 'Enter' || !(event.target instanceof HTMLInputElement)) return;
  if (!(part instanceof HTMLElement)) return;
  event.preventDefault();
  const fields = [...part.querySelectorAll<HTMLElement>('input, select, textarea')].filter((field) =>
    field.checkVisibility(),
  );
  fields[fields.indexOf(event.target) + 1]?.focus();
}

/** Fields among which Enter goes on to the next. */
export function NextFieldOnEnter(props: { children: ReactNode }) {
  const ref = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const fields = ref.current;
    fields?.addEventListener('keydown', toNextField);
    return () => fields?.removeEventListener('keydown', toNextField);
  }, []);
  return <div ref={ref}>{props.children}</div>;
}
