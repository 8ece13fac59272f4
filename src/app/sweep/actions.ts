import type { Act } from '../actions/action.ts'
import { sweep } from '../store/sweep.ts'

export const sweepActs: readonly Act[] = [
  {
    id: 'sweep',
    label: 'Try one or two numbers over a range',
    group: 'Trace',
    keys: ['t'],
    run: () => sweep.setState({ open: !sweep.getState().open }),
  },
]
