import { power } from '../store/power.ts'
import type { Act } from './act.ts'

export const powerActs: readonly Act[] = [
  {
    id: 'power',
    label: 'Show heat and power: how long each mode lasts, the wiring',
    group: 'Trace',
    keys: ['w'],
    run: () => power.setState({ open: !power.getState().open }),
  },
]
