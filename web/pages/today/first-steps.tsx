import type { ReactNode } from 'react';
import { Link } from '@tanstack/react-router';

export interface StepsDone {
  settings: boolean;
  lot: boolean;
  prices: boolean;
  treatments: boolean;
  testSmelts: boolean;
  terms: boolean;
  decided: boolean;
}

const steps: readonly { done: keyof StepsDone; title: ReactNode; why: string }[] = [
  {
    done: 'settings',
    title: <Link to="/settings">Name the mill</Link>,
    why: 'And choose its currency, its units and the balances on the bench.',
  },
  {
    done: 'lot',
    title: <Link to="/lots/new">Enter a lot</Link>,
    why: 'A drum or a heap of concentrate: its mass, its moisture and what minerals are in it.',
  },
  {
    done: 'prices',
    title: <Link to="/prices">Prices and costs</Link>,
    why: 'What you buy and what it costs; what gold and silver are quoted at.',
  },
  {
    done: 'treatments',
    title: <Link to="/treatments">Treatments</Link>,
    why: 'The ways you could work the lot up: raw with iron, with nitre, roasted first.',
  },
  {
    done: 'testSmelts',
    title: <Link to="/test-smelts/new">Test smelts</Link>,
    why: 'A small smelt by each treatment, weighed: the best evidence of what the lot holds and gives.',
  },
  {
    done: 'terms',
    title: <Link to="/terms">Buyers’ terms</Link>,
    why: 'What a refiner pays for your bar, and what a smelter would pay for the concentrate.',
  },
  {
    done: 'decided',
    title: <Link to="/decide">Decide</Link>,
    why: 'Which treatment, or sell as it is: what each would bring, how sure that is, and what to find out next.',
  },
];

/** The way from a drum of concentrate to a decision, each step ticked off when it is there. */
export function FirstSteps(props: { done: StepsDone }) {
  const { done } = props;
  return (
    <ol className="steps">
      {steps.map((step) => (
        <li key={step.done} data-done={done[step.done]}>
          <span className="step-mark" aria-hidden="true">
            {done[step.done] ? '✓' : ''}
          </span>
          <span>
            <span className="step-title">
              {step.title}
              {done[step.done] ? <span className="step-done"> (done)</span> : null}
            </span>
            <span className="step-why">{step.why}</span>
          </span>
        </li>
      ))}
    </ol>
  );
}
