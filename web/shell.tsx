import { useEffect, useRef, useState } from 'react';
import type { ReactNode } from 'react';
import { Link } from '@tanstack/react-router';
import { signOut } from './lib/session.ts';
import type { Actor } from './lib/session.ts';
import { navigationFor } from './navigation.ts';
import { WaitingNote } from './parts/waiting-note.tsx';

/** What stands around every page: the mill's name, the contents, and the notice of an invented season. */
export function Shell(props: {
  millName: string | null;
  isDemo: boolean;
  /** Who is here; null where nobody has signed in. */
  actor: Actor | null;
  children: ReactNode;
}) {
  const { millName, isDemo, actor, children } = props;
  const [menuOpen, setMenuOpen] = useState(false);
  const menuButton = useRef<HTMLButtonElement>(null);
  return (
    <>
      <a
        className="skip-link"
        href="#page"
        onClick={(event) => {
          event.preventDefault();
          document.getElementById('page')?.focus();
        }}
      >
        Skip to the page
      </a>
      <header>
        {isDemo ? (
          <p className="demo-notice" role="note">
            Demo season: place, people and companies are invented.
          </p>
        ) : null}
        <div className="masthead">
          <p className="masthead-name">
            <Link to="/">{millName ?? 'Poursheet'}</Link>
            {millName === null ? null : <span className="masthead-program">Poursheet</span>}
          </p>
          <button
            type="button"
            ref={menuButton}
            className="menu-button"
            aria-expanded={menuOpen}
            aria-controls="contents"
            onClick={() => setMenuOpen(!menuOpen)}
          >
            Menu
          </button>
        </div>
      </header>
      <div className="below-masthead">
        <Contents
          actor={actor}
          open={menuOpen}
          close={(toButton) => {
            setMenuOpen(false);
            if (toButton) menuButton.current?.focus();
          }}
        />
        <main id="page" className="page" tabIndex={-1}>
          <WaitingNote />
          {children}
        </main>
      </div>
    </>
  );
}

function Contents(props: { actor: Actor | null; open: boolean; close: (toButton: boolean) => void }) {
  const { actor, open, close } = props;
  useEffect(() => {
    if (!open) return undefined;
    const closeOnEscape = (event: KeyboardEvent): void => {
      if (event.key === 'Escape') close(true);
    };
    document.addEventListener('keydown', closeOnEscape);
    return () => document.removeEventListener('keydown', closeOnEscape);
  }, [open, close]);
  return (
    <nav id="contents" className="contents" aria-label="Contents" data-open={open}>
      {navigationFor(actor?.role).map((group) => (
        <ul key={group[0]?.to}>
          {group.map(({ to, label }) => (
            <li key={to}>
              <Link
                to={to}
                activeOptions={{ exact: to === '/', includeSearch: false }}
                onClick={() => close(false)}
              >
                {label}
              </Link>
            </li>
          ))}
        </ul>
      ))}
      {actor === null || actor.accountId === null ? null : (
        <ul aria-label="Your account">
          <li>
            <Link to="/account" onClick={() => close(false)}>
              {actor.name}, {actor.role}
            </Link>
          </li>
          <li>
            <button type="button" className="plain" onClick={() => void signOut()}>
              Sign out
            </button>
          </li>
        </ul>
      )}
    </nav>
  );
}
