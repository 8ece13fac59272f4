import type { Action } from '../actions/action.ts'
import { compare } from '../store/compare.ts'

export const compareActions: readonly Action[] = [
  {
    id: 'compare',
    label: 'Compare the lamp with others or with earlier states',
    group: 'Trace',
    keys: ['shift+t'],
    run: () => compare.setState({ open: !compare.getState().open }),
  },
]
