import { useEffect, useRef, useState } from 'react';
import type { DecideAnswer, DecideRequest } from './decide-messages.ts';

type Question = Omit<DecideRequest, 'number'>;

/**
 * The decision for the what-if at hand, worked beside the page so that typing
 * stays smooth. While a newer one is being worked the last answer stays, marked
 * as `stale`; only the newest question is ever worked next.
 */
export function useDecision(question: Question | null): {
  answer: DecideAnswer | null;
  stale: boolean;
  failure: Error | null;
} {
  const [answer, setAnswer] = useState<DecideAnswer | null>(null);
  const [failure, setFailure] = useState<Error | null>(null);
  const [asked, setAsked] = useState(0);
  const worker = useRef<Worker | null>(null);
  const waiting = useRef<DecideRequest | null>(null);
  const working = useRef(false);
  const counter = useRef(0);

  useEffect(() => {
    const started = new Worker(new URL('../workers/decide-worker.ts', import.meta.url), { type: 'module' });
    worker.current = started;
    const next = (): void => {
      const request = waiting.current;
      waiting.current = null;
      working.current = request !== null;
      if (request !== null) started.postMessage(request);
    };
    started.onmessage = ({ data }: MessageEvent<DecideAnswer>) => {
      setAnswer(data);
      next();
    };
    started.onerror = (event) => {
      event.preventDefault();
      setFailure(new Error(event.message));
      next();
    };
    return () => {
      started.terminate();
      worker.current = null;
      working.current = false;
    };
  }, []);

  useEffect(() => {
    if (question === null || worker.current === null) return;
    counter.current += 1;
    const request = { ...question, number: counter.current };
    setAsked(counter.current);
    setFailure(null);
    if (working.current) waiting.current = request;
    else {
      working.current = true;
      worker.current.postMessage(request);
    }
  }, [question]);

  return { answer, stale: answer !== null && answer.number !== asked, failure };
}
