// What is missing is a severe finding: counted, first of all, and never "nothing known" or "nothing found".
import { afterEach, expect, test } from 'vitest'
import { danger } from '../../../src/app/store/danger.ts'
import {
  clearMissing,
  createMissing,
  mayTryAgain,
  missing,
  missingFindings,
  missingPartOf,
  setMissing,
} from '../../../src/app/store/missing.ts'
import { power } from '../../../src/app/store/power.ts'
import { currentSevere, joinFindings } from '../../../src/app/store/severe.ts'
import { result } from '../../../src/app/store/stores.ts'
import { gannetHead } from '../../../src/library/demos.ts'
import { fakeDanger } from '../../kit/fakeDanger.ts'
import { fakeSheet } from '../../kit/fakeSheet.ts'

afterEach(() => {
  for (const part of ['beam', 'heat', 'danger'] as const) clearMissing(missing, part)
  result.setState({ sheet: null })
  power.setState({ findings: [] })
  danger.setState({ reading: null })
})

const gone = (part: 'beam' | 'heat' | 'danger', why = 'It stopped.') =>
  setMissing(missing, part, { why, restarts: false }, () => {})

test('before anything is known nothing is; with a part missing that is known, and severe', () => {
  expect(currentSevere()).toBeNull()
  gone('beam')
  gone('heat', 'out of memory')
  expect(currentSevere()).toEqual(['Beam: not computed. It stopped.', 'Heat and power: not computed. out of memory.'])
})

test('the last known findings of a missing part stay and are marked; those of other parts are as they were', () => {
  const lamp = gannetHead()
  const sheet = fakeSheet(lamp)
  const reading = fakeDanger(lamp)
  result.setState({ sheet })
  danger.setState({ reading })
  const before = currentSevere()!
  gone('danger')
  const severe = currentSevere()!
  expect(severe[0]).toBe('Dangers in full: not computed. It stopped.')
  expect(severe).toHaveLength(before.length + 1)
  const beam = sheet.findings.filter((f) => f.severity === 'severe').map((f) => f.title)
  expect(severe).toEqual(expect.arrayContaining(beam))
  expect(severe.filter((t) => t.startsWith('Perhaps still: '))).toHaveLength(before.length - beam.length)
  gone('beam')
  const titles = joinFindings({ beam: sheet.findings, heat: [], missing: missing.getState() }).map((f) => f.title)
  expect(titles.filter((t) => t.startsWith('Perhaps still: '))).toHaveLength(sheet.findings.length)
})

test('each has a rule of its own, by which its button is found; a retry waits, and says so', () => {
  const store = createMissing()
  const pressed: string[] = []
  for (const part of ['beam', 'heat', 'danger'] as const)
    setMissing(store, part, { why: 'Stopped.', restarts: false }, () => pressed.push(part))
  const findings = missingFindings(store.getState())
  expect(findings.map(missingPartOf)).toEqual(['beam', 'heat', 'danger'])
  expect(missingPartOf({ rule: 'front-hot' })).toBeNull()
  store.getState().heat!.again()
  expect(pressed).toEqual(['heat'])
  expect(store.getState().heat).toMatchObject({ why: 'Stopped.', restarts: true })
  clearMissing(store, 'heat')
  expect(missingFindings(store.getState())).toHaveLength(2)
  // Nothing missing is one and the same list: what is drawn from it is not drawn again.
  expect(missingFindings(createMissing().getState())).toBe(missingFindings(createMissing().getState()))
})

test('a lamp that can’t be traced: no button, and the cure is to change the lamp', () => {
  setMissing(missing, 'beam', { why: 'The lamp gives no light.', restarts: false, ofLamp: true }, () => {})
  expect(missingFindings(missing.getState())[0]!.cure).toBe('Change the lamp: to try again gives the same.')
  gone('heat')
  const { beam, heat, danger: full } = missing.getState()
  expect([mayTryAgain(beam), mayTryAgain(heat), mayTryAgain(full)]).toEqual([false, true, false])
  expect(mayTryAgain({ restarts: true })).toBe(false)
})
