import type { Action } from '../actions/action.ts'
import { sweep } from '../store/sweep.ts'

export const sweepActions: readonly Action[] = [
  {
    id: 'sweep',
    label: 'Try one or two numbers over a range',
    group: 'Trace',
    keys: ['t'],
    run: () => sweep.setState({ open: !sweep.getState().open }),
  },
]
