// Actions of the whole page.

import type { Action, Page } from '../actions/action.ts'
import type { ViewName } from '../store/view.ts'

/** A drag session is open: its step is not in the history yet. */
const isDragging = (page: Page) => !page.design.store.temporal.getState().isTracking

const viewAction = (view: ViewName, name: string, key: string): Action => ({
  id: `view-${view}`,
  label: `Show ${name}`,
  group: 'Views',
  keys: [key],
  run: (page) => page.view.setState({ view }),
})

export const pageActions: readonly Action[] = [
  {
    id: 'undo',
    label: 'Undo the last edit',
    group: 'Lamp',
    keys: ['mod+z'],
    when: (page) => page.design.canUndo() && !isDragging(page),
    run: (page) => page.design.undo(),
  },
  {
    id: 'redo',
    label: 'Redo what was undone',
    group: 'Lamp',
    keys: ['mod+shift+z', 'mod+y'],
    when: (page) => page.design.canRedo() && !isDragging(page),
    run: (page) => page.design.redo(),
  },
  { id: 'save', label: 'Save the lamp to a file', group: 'Lamp', keys: ['mod+s'], run: (page) => page.files.save() },
  { id: 'open', label: 'Open a lamp file', group: 'Lamp', keys: ['mod+o'], run: (page) => page.files.open() },
  { id: 'search', label: 'Search for a command', group: 'Lamp', keys: ['mod+k', '/'], run: (page) => page.search() },
  { id: 'keys', label: 'Show the keys', group: 'Lamp', keys: ['?'], run: (page) => page.help() },
  viewAction('plan', 'the plan', '1'),
  viewAction('section', 'the section', '2'),
  viewAction('solid', 'the solid', '3'),
  viewAction('night', 'the night', '4'),
  {
    id: 'trace-pause',
    label: 'Pause or resume the trace',
    group: 'Trace',
    keys: ['p'],
    run: (page) => (page.result.getState().trace === 'paused' ? page.trace.resume() : page.trace.pause()),
  },
]
