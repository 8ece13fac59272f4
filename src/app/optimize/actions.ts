import type { Action } from '../actions/action.ts'
import { optimize } from '../store/optimize.ts'

export const optimizeActions: readonly Action[] = [
  {
    id: 'optimize',
    label: 'Search for the best values of numbers and choices',
    group: 'Trace',
    keys: ['s'],
    run: () => optimize.setState({ open: !optimize.getState().open }),
  },
]
