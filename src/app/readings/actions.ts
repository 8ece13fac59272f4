import type { Action } from '../actions/action.ts'
import { readings } from '../store/readings.ts'

export const readingsActions: readonly Action[] = [
  {
    id: 'readings',
    label: 'Measure the built lamp: plan, readings, what differs',
    group: 'Trace',
    keys: ['z'],
    run: () => readings.setState({ open: !readings.getState().open }),
  },
]
