// Where the columns don't fit side by side, what was asked for is shown.
import { beforeEach, expect, test } from 'vitest'
import { followColumns } from '../../../src/app/shell/panels.ts'
import { danger } from '../../../src/app/store/danger.ts'
import { display } from '../../../src/app/store/display.ts'
import { requestPart } from '../../../src/app/store/openParts.ts'
import { view } from '../../../src/app/store/stores.ts'

let isOneColumn = true
followColumns(() => isOneColumn)
const shown = () => display.store.getState().column

beforeEach(() => {
  isOneColumn = true
  danger.setState({ open: false })
  view.setState({ view: 'section' })
  display.showColumn('sheet')
})

test('one column: a panel that opens, and a view that is chosen, come to the front', () => {
  danger.setState({ open: true })
  expect(shown()).toBe('view')
  display.showColumn('sheet')
  view.setState({ view: 'night' })
  expect(shown()).toBe('view')
})

test('with the view beside it the sheet stays', () => {
  isOneColumn = false
  danger.setState({ open: true })
  view.setState({ view: 'night' })
  expect(shown()).toBe('sheet')
})

test('a part whose field was asked for brings the parts; one that was only pointed at does not', () => {
  requestPart('lens')
  expect(shown()).toBe('sheet')
  requestPart('lens', true)
  expect(shown()).toBe('parts')
})
