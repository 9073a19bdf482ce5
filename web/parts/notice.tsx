import type { ReactNode } from 'react';

const words = { note: 'Note', warning: 'Warning', caution: 'Caution' } as const;

/** A reservation or caution in a box, labelled with a word. */
export function Notice(props: { level: keyof typeof words; children: ReactNode }) {
  const { level, children } = props;
  return (
    <div className={`notice notice-${level}`} role="note">
      <p>
        <span className="notice-word">{words[level]}.</span> {children}
      </p>
    </div>
  );
}
