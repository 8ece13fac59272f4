import type { Action } from '../actions/action.ts'
import { power } from '../store/power.ts'

export const powerActions: readonly Action[] = [
  {
    id: 'power',
    label: 'Show heat and power: how long each mode lasts, the wiring',
    group: 'Trace',
    keys: ['w'],
    run: () => power.setState({ open: !power.getState().open }),
  },
]
