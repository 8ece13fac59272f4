// Connects the tolerance runner to this page.
import { openToleranceClient } from '../../job/tolerances/client.ts'
import { browserKeyValue } from '../store/keyValue.ts'
import { design } from '../store/stores.ts'
import { createToleranceRuns } from '../store/toleranceRuns.ts'
import { tolerances } from '../store/tolerances.ts'
import { createToleranceRunner, EACH } from '../tolerances/runner.ts'

export const toleranceRunner = createToleranceRunner({
  design,
  tolerances,
  runs: createToleranceRuns(browserKeyValue('lampwright-runs', 'runs'), `${EACH.rays} ${EACH.seed}`),
  open: openToleranceClient,
})
