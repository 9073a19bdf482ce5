import { Facts } from '../../parts/facts.tsx';

/** The words of statistics that this page uses, each said once in plain words. */
export function PlainWords() {
  return (
    <details>
      <summary>What these words mean</summary>
      <Facts
        facts={[
          {
            label: '850 ± 64',
            value:
              'Two standard uncertainties either way (k = 2): about 95 times in 100 the true figure of that test lies within.',
          },
          {
            label: 'Trial, replicate',
            value: 'A trial is one recipe on one lot. Its tests are replicates: the same thing done again.',
          },
          {
            label: '95 % range',
            value:
              'Where the true difference lies in 95 of 100 such comparisons. If it holds zero, the two may be alike.',
          },
          {
            label: 'Not proven',
            value:
              'The difference may be luck: the 95 % range holds zero, or too few tests were made to have a range. It does not say that the two are alike.',
          },
          {
            label: 'Chance that it is the better',
            value: 'How likely the one is truly above the other, by these tests and nothing else.',
          },
          {
            label: 'More of each',
            value:
              'Further tests of both trials, so that the difference would be proven 9 times in 10 if it is as large as it looks.',
          },
          {
            label: 'Scatter, spread',
            value: 'Standard deviation: two tests in three lie within one of it from their mean.',
          },
          {
            label: '8 in 10',
            value:
              'The range that holds the true figure with 8 chances in 10; the figure before it is the middle.',
          },
          {
            label: 'Effective sample size',
            value: 'How many independent draws the ranges are worth; some hundreds are plenty.',
          },
        ]}
      />
    </details>
  );
}
