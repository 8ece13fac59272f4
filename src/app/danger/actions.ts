import type { Action } from '../actions/action.ts'
import { danger } from '../store/danger.ts'

export const dangerActions: readonly Action[] = [
  {
    id: 'danger',
    label: 'Show the dangers in full',
    group: 'Views',
    keys: ['d'],
    run: () => danger.setState({ open: !danger.getState().open }),
  },
]
