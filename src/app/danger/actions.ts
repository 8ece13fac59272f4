import type { Act } from '../actions/action.ts'
import { danger } from '../store/danger.ts'

export const dangerActs: readonly Act[] = [
  {
    id: 'danger',
    label: 'Show the dangers in full',
    group: 'Views',
    keys: ['d'],
    run: () => danger.setState({ open: !danger.getState().open }),
  },
]
