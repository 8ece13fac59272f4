import { renderToString } from 'react-dom/server'
import { afterEach, expect, test } from 'vitest'
import { PowerPanel } from '../../../src/app/power/PowerPanel.tsx'
import { clearMissing, missing, setMissing } from '../../../src/app/store/missing.ts'
import { createPower, power } from '../../../src/app/store/power.ts'
import { design } from '../../../src/app/store/stores.ts'
import type { PowerReport } from '../../../src/electrothermal/result.ts'
import { runPower } from '../../../src/job/power/run.ts'
import { benchCheck, gannetHead } from '../../../src/library/demos.ts'
import { column, fakeRun } from '../../kit/fakePower.ts'

const fresh = createPower().getState()
// On a server a store shows its initial state; here it is to show what it holds.
power.getInitialState = power.getState
design.store.getInitialState = design.store.getState
missing.getInitialState = missing.getState
afterEach(() => power.setState(fresh, true))

/** Wiring and list as they are; the modes made up. */
const report = (modes: PowerReport['modes']): PowerReport => ({ ...runPower(gannetHead(), { mode: '' }), modes })
const shown = () => renderToString(<PowerPanel />).replaceAll('<!-- -->', '')

test('before the first run the panel says that it is coming; a failed one says why', () => {
  expect(shown()).toContain('Being run…')
  power.setState({ why: 'The worker stopped.' })
  setMissing(missing, 'heat', { why: 'The worker stopped.', restarts: true }, () => {})
  expect(shown()).toContain('Heat and power: not computed. The worker stopped.')
  expect(shown()).toContain('It is tried again automatically.')
  expect(shown()).not.toContain('Try again')
  setMissing(missing, 'heat', { why: 'The worker stopped.', restarts: false }, () => {})
  expect(shown()).toContain('Try again')
  clearMissing(missing, 'heat')
  expect(shown()).not.toContain('The worker stopped.')
})

test('a line for each mode, the one looked at pressed; what limits it, and where its energy went', () => {
  design.open(gannetHead())
  power.setState({
    report: report([
      fakeRun(),
      fakeRun({ id: 'low', name: 'Low', limit: { kind: 'long', atS: 7200, boardIndex: null } }),
    ]),
  })
  const page = shown()
  expect(page).toMatch(
    /aria-pressed="true"[^>]*>Full: 1\.6 min until board 1 reaches 120 °C; let it cool 4 min, then half of its heat is gone\./,
  )
  expect(page).toMatch(/aria-pressed="false"[^>]*>Low: more than 2 h, hottest junction 120 °C\./)
  expect(page).toContain('a junction at its limit, board B1')
  expect(page).toContain('Stored in plate and sink')
})

test('a mode that ends at once, and a lamp without boards', () => {
  design.open(gannetHead())
  const whole = fakeRun()
  const firsts = <T extends object>(columns: T): T =>
    Object.fromEntries(Object.entries(columns).map(([key, x]) => [key, column(x[0])])) as T
  const dead = {
    ...whole,
    curves: firsts(whole.curves),
    energy: firsts(whole.energy),
    boardJunctionC: whole.boardJunctionC.slice(0, 1),
  }
  power.setState({ report: report([dead]) })
  expect(shown()).toContain('It ends at once: there is no curve.')
  expect(shown()).toContain('nothing has gone anywhere yet')
  power.setState({ report: report([]) })
  expect(shown()).toContain('No board stands on the face')
})

test('wiring in words, and the list with its ticks from the lamp', () => {
  design.open({ ...gannetHead(), powerUp: { done: ['lamp/eyes'] } })
  power.setState({ report: report([]), page: 'wiring' })
  expect(shown()).toMatch(/19 drivers.*19 boards.*×19.*white, brown/)
  power.setState({ page: 'list' })
  expect(shown()).toContain('1 of 156 done')
  expect(shown().match(/checked=""/g)).toHaveLength(1)
  design.open(benchCheck())
  expect(shown()).toContain('0 of 156 done')
})

test('what was found about a part stands beside it: in the schedule, among what to buy, on the power-up list', () => {
  design.open(gannetHead())
  const parts = ['fuse main', 'fuse B1 in']
  const place = { kind: 'part', part: 'heat' } as const
  const findings = [
    { rule: 'r', severity: 'severe', title: 'It burns.', why: '', cure: '', place, parts } as const,
    { rule: 'w', severity: 'warning', title: 'It warms.', why: '', cure: '', place, parts: ['contactor'] } as const,
  ]
  power.setState({ report: report([]), findings, page: 'wiring' })
  expect(shown()).toMatch(/AWG 8<.*ui-below.*data-severity="severe">SEVERE: It burns\..*18 drivers \(B2 to B19\)/)
  expect(shown()).toMatch(
    /fuse 40 A, 58 V <b>1<\/b><ul class="power-remarks"><li data-severity="severe">SEVERE: It burns/,
  )
  expect(shown()).toMatch(/Main switch in.*>Low<.*Warning: It warms\..*>High</)
  expect(shown()).toMatch(/contactor 50 A <b>1<\/b><ul[^>]*><li data-severity="warning">Warning: It warms\./)
  expect(shown().match(/It burns/g)).toHaveLength(4)
  power.setState({ page: 'list' })
  expect(shown().match(/SEVERE: It burns\./g)).toHaveLength(2)
  power.setState({ page: 'wiring', findings: [], why: 'The worker stopped.' })
  expect(shown()).toContain('what is wrong with its parts is missing')
})

test('the list’s figures that all channels share stand once above them; those that differ in each cell', () => {
  design.open(gannetHead())
  const whole = report([fakeRun()])
  // Figures of a cell don't wrap, and their sentences stand in attributes: what is left is the text of the table.
  const figures = () => shown().replaceAll('\u00a0', ' ').split('<h3>What each check asks')[0]?.match(/>3 A</g)?.length
  power.setState({ page: 'list', report: whole })
  expect(figures()).toBe(1)
  const other = whole.powerUp.map((i) => (i.channel === 'B3' && i.step === 'fuse' ? { ...i, short: '4 A' } : i))
  power.setState({ report: { ...whole, powerUp: other } })
  expect(figures()).toBe(18)
  expect(shown().replaceAll('\u00a0', ' ')).toContain('>4 A<')
})
