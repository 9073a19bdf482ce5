import { useEffect, useRef, useState } from 'react';
import type { ReactNode } from 'react';
import { Link } from '@tanstack/react-router';
import { navigation } from './navigation.ts';

/** What stands around every page: the mill's name, the contents, and the notice of an invented season. */
export function Shell(props: { millName: string | null; isDemo: boolean; children: ReactNode }) {
  const { millName, isDemo, children } = props;
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
          open={menuOpen}
          close={(toButton) => {
            setMenuOpen(false);
            if (toButton) menuButton.current?.focus();
          }}
        />
        <main id="page" className="page" tabIndex={-1}>
          {children}
        </main>
      </div>
    </>
  );
}

function Contents(props: { open: boolean; close: (toButton: boolean) => void }) {
  const { open, close } = props;
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
      {navigation.map((group) => (
        <ul key={group[0].to}>
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
    </nav>
  );
}
