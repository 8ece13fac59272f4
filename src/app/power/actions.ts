import type { Act } from '../actions/action.ts'
import { power } from '../store/power.ts'

export const powerActs: readonly Act[] = [
  {
    id: 'power',
    label: 'Show heat and power: how long each mode lasts, the wiring',
    group: 'Trace',
    keys: ['w'],
    run: () => power.setState({ open: !power.getState().open }),
  },
]
