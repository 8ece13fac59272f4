import type { Action } from '../actions/action.ts'
import { tolerances } from '../store/tolerances.ts'

export const toleranceActions: readonly Action[] = [
  {
    id: 'tolerances',
    label: 'Build the lamp many times within its tolerances',
    group: 'Trace',
    keys: ['j'],
    run: () => tolerances.setState({ open: !tolerances.getState().open }),
  },
]
