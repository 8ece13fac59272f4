import type { Action } from '../actions/action.ts'
import { handbook } from '../store/handbook.ts'

export const handbookActions: readonly Action[] = [
  {
    id: 'handbook',
    label: 'Open the handbook',
    group: 'Lamp',
    keys: ['i'],
    run: () => handbook.setState({ open: !handbook.getState().open }),
  },
]
