import { useEffect, useState } from 'react';

const settlesAfterMs = 250;

/** What is typed, once typing rests: so that not every letter asks the server. */
export function useSettled(typed: string): string {
  const [settled, setSettled] = useState(typed);
  useEffect(() => {
    const timer = setTimeout(() => setSettled(typed), settlesAfterMs);
    return () => clearTimeout(timer);
  }, [typed]);
  return settled;
}
