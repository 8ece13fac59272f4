import type { Action } from '../actions/action.ts'
import { workshop } from '../store/workshop.ts'

export const workshopActions: readonly Action[] = [
  {
    id: 'workshop',
    label: 'Show drawings, solids, parts list and files for other shops',
    group: 'Lamp',
    keys: ['m'],
    run: () => workshop.setState({ open: !workshop.getState().open }),
  },
]
