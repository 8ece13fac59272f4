// Rules write quantities in both systems of units; most tests read the metric one, as it is stored.
import { type Finding, findingsIn } from '../../src/checks/finding.ts'
import { allInSystem } from '../../src/num/quantity.ts'

/** A rule whose findings are metric. */
export const metricRule =
  <A extends unknown[]>(rule: (...of: A) => Finding[]) =>
  (...of: A): Finding[] =>
    findingsIn(allInSystem(rule(...of), 'metric'), 'metric')

/** Words that are metric. */
export const metricWords =
  <A extends unknown[]>(words: (...of: A) => string) =>
  (...of: A): string =>
    allInSystem(words(...of), 'metric')
