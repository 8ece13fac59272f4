// Heat and power as a builder meets them: the line of a mode, the slider and the plate's map, the beam at a moment, the power-up list.
import { expect, test, vi } from 'vitest'
import { gannetHead } from '../../src/library/demos.ts'
import { axe, lampOn, rest, show } from './hands.ts'
import { chromiumPages } from './harness.ts'

vi.setConfig({ testTimeout: 400_000 })
const open = chromiumPages()

test('modes in a line each, the slider moves the map, the beam follows; a tick is one step that undo takes back', async () => {
  const page = await open({ shared: 'demo' })
  await page.locator('body').press('w')
  const panel = page.getByRole('region', { name: 'Heat and power' })
  await panel.getByRole('button', { name: /^Turbo: .* until board B\d+ reaches 140 °C/ }).click()
  const map = panel.locator('canvas')
  const slider = panel.getByRole('slider', { name: 'Moment after switch-on' })
  await slider.press('Home')
  await panel.locator('canvas[data-moment^="0"]').waitFor()
  const cold = await map.evaluate((c: HTMLCanvasElement) => c.toDataURL())
  await slider.press('End')
  await panel.locator('canvas[data-moment$="min"]').waitFor()
  expect(await map.evaluate((c: HTMLCanvasElement) => c.toDataURL())).not.toBe(cold)
  await panel.getByText(/hottest: board B\d+, junction 140/).waitFor()
  expect(await axe(page)).toEqual([])

  await panel.getByRole('button', { name: 'Beam at this moment' }).click()
  await panel.getByText('The beam sheet shows this moment.').waitFor()
  expect((await lampOn(page)).heat).toMatchObject({ kind: 'mode', mode: 'turbo' })
  await page.getByText(/^Light of Turbo, .*: hottest junction 140 °C\.$/).waitFor()
  await page.getByRole('button', { name: /^Undo: Heat: beam of Turbo/ }).click()
  await panel.getByText('The beam sheet does not follow a mode yet.').waitFor()

  await panel.getByRole('radio', { name: 'Wiring' }).click()
  await panel.getByRole('rowheader', { name: 'drivers B1 … B19' }).waitFor()
  await panel.getByRole('radio', { name: 'Power-up list' }).click()
  const first = panel.getByRole('group', { name: 'Channel B1', exact: true }).getByRole('checkbox').first()
  await first.check()
  expect((await lampOn(page)).powerUp).toEqual({ done: ['B1/continuity'] })
  await rest(page)
  expect(await axe(page)).toEqual([])
  await page.keyboard.press('Control+z')
  expect((await lampOn(page)).powerUp).toBe(undefined)
  expect(await first.isChecked()).toBe(false)
  await first.press('Escape')
  await panel.waitFor({ state: 'detached' })
})

test('Plan shows the plate’s temperature over time: slider by keys, colours over the moment or the run, hottest named', async () => {
  const page = await open({ shared: 'demo' })
  await show(page, 'Plan')
  await page.locator('body').press('Shift+L')
  await page.getByRole('button', { name: 'Temperature', pressed: true }).waitFor()
  const slider = page.getByRole('slider', { name: 'Moment after switch-on' })
  await page.getByRole('radio', { name: 'Turbo' }).click()
  await slider.press('End')
  await page.getByText(/hottest: board B1, junction 140/).waitFor()
  await page.getByText(/^Plate now 1\d\d to 1\d\d/).waitFor()
  expect(await axe(page)).toEqual([])
  await slider.press('Home')
  await page.getByText(/^Plate now even, 20/).waitFor()
  await page.getByRole('radio', { name: 'whole run' }).click()
  await page.getByText(/colours over the whole run, 20 to 1\d\d/).waitFor()
})

test('the list on paper: the panel alone, every box of it; ticks are on it', async () => {
  const page = await open({ shared: 'demo' })
  await page.locator('body').press('w')
  const panel = page.getByRole('region', { name: 'Heat and power' })
  await panel.getByRole('radio', { name: 'Power-up list' }).click()
  const eyes = panel.getByRole('checkbox', { name: /^eyes/ })
  await eyes.press('Space')
  await panel.getByText('1 of 156 done').waitFor()
  // Nobody answers the browser's own dialogue here.
  await page.evaluate(() => {
    window.print = () => {}
  })
  await panel.getByRole('button', { name: 'Print' }).click()
  await page.emulateMedia({ media: 'print' })
  expect(await page.locator('.shell-sheet').isVisible()).toBe(false)
  expect(await panel.getByRole('button', { name: 'Print' }).isVisible()).toBe(false)
  expect(await panel.getByRole('checkbox').count()).toBe(156)
  expect(await eyes.isChecked()).toBe(true)
  const cut = await panel.evaluate((p) => getComputedStyle(p).overflowY)
  expect(cut).toBe('visible')
})

test('strings, a group’s current, cut-out and fold-back, a wire, pulses, ultraviolet and the fins’ length: typed, in the file, and back by undo', async () => {
  const page = await open({ idle: true })
  const column = page.getByRole('complementary', { name: 'Parts of the lamp' })
  const openPart = async (name: RegExp) => {
    const button = column.getByRole('button', { name })
    if ((await button.getAttribute('aria-expanded')) !== 'true') await button.click()
  }
  const type = async (name: string, value: string) => {
    const field = column.getByRole('spinbutton', { name })
    await field.fill(value)
    await field.press('Enter')
  }
  const choose = (name: string, option: string) =>
    column.getByRole('radiogroup', { name }).getByRole('radio', { name: option }).click()
  await openPart(/^Boards \d+ placed/)
  await type('Strings, side by side', '7')
  expect((await lampOn(page)).boardTypes[0]!.strings).toBe(7)
  await column.getByText('1 in series × 7 in parallel', { exact: false }).waitFor()
  await openPart(/^Power /)
  await openPart(/^Modes /)
  await column.getByRole('switch', { name: 'A current of its own' }).press('Space')
  await type('Each emitter', '0.4')
  expect((await lampOn(page)).power!.modes[0]!.groupA).toEqual({ all: 0.4 })
  await openPart(/^Protection/)
  await column.getByRole('switch', { name: 'Thermal cut-out' }).press('Space')
  await column.getByRole('switch', { name: 'Fold-back' }).press('Space')
  await type('Opens at', '75')
  await type('Closes again at', '')
  await type('Folds back from', '55')
  expect((await lampOn(page)).power!.protection).toEqual({
    cutOut: { openC: 75 },
    foldBack: { startC: 55, endC: 80, leastShare: 0.3 },
  })
  await openPart(/^Wires and fuses/)
  // A rating that need not be named: typed, and taken away by an emptied field.
  await type('Contactor, makes', '300')
  expect((await lampOn(page)).power!.harness.contactor).toMatchObject({ makesA: 300 })
  await type('Contactor, makes', '')
  expect((await lampOn(page)).power!.harness.contactor).toEqual(gannetHead().power!.harness.contactor)
  await type('To driver B1', '900')
  expect((await lampOn(page)).power!.harness.channelLengthMm).toEqual({ B1: 900 })
  await openPart(/^Drivers /)
  await column.getByRole('radio', { name: 'pulse width' }).click()
  await choose('Pulse frequency', 'given')
  await type('Pulses a second', '2 kHz')
  await choose('Depth of pulses', 'given')
  await type('Depth', '120')
  await column.getByText(/^120 % is too large; at most 100 %/).waitFor()
  await type('Depth', '40')
  expect((await lampOn(page)).power!.drivers[0]).toMatchObject({ pwmHz: 2000, pwmModulationPercent: 40 })
  await choose('Pulse frequency', 'not known')
  expect((await lampOn(page)).power!.drivers[0]!.pwmHz).toBe(undefined)
  await column.getByRole('button', { name: /Spectrum$/ }).click()
  await page.getByRole('option', { name: 'Samples, with UV' }).click()
  await choose('Ultraviolet', 'given')
  await openPart(/^Ultraviolet samples/)
  await type('At 365 nm', '0.02')
  const { spectrum } = (await lampOn(page)).emitterTypes[0]!
  const [peak, at365] = spectrum.kind === 'table' ? [Math.max(...spectrum.power), spectrum.ultraviolet![13]!] : [0, 0]
  expect(at365 / peak).toBeCloseTo(0.02, 9)
  await openPart(/^Heat /)
  await choose('Fins, length', 'given')
  await type('Each fin, length', '150')
  expect((await lampOn(page)).cooling!.sink).toMatchObject({ lengthMm: 150 })
  expect(await axe(page)).toEqual([])
  // What is hidden in the long column must not make the page itself longer.
  expect(await page.evaluate(() => document.documentElement.scrollHeight - window.innerHeight)).toBe(0)
  for (let i = 0; i < 22; i++) await page.getByRole('button', { name: /^Undo: / }).click()
  expect(await lampOn(page)).toEqual(gannetHead())
})

test('a sink by its data sheet: chosen, typed in other units, its largest heat given and taken away, each one step back', async () => {
  const page = await open({ idle: true })
  const column = page.getByRole('complementary', { name: 'Parts of the lamp' })
  const heat = column.getByRole('button', { name: /^Heat/ })
  if ((await heat.getAttribute('aria-expanded')) !== 'true') await heat.click()
  const type = async (name: string, value: string) => {
    const field = column.getByRole('spinbutton', { name })
    await field.fill(value)
    await field.press('Enter')
  }
  const sink = async () => (await lampOn(page)).cooling!.sink
  await column.getByRole('radiogroup', { name: 'On its back' }).getByRole('radio', { name: 'rated' }).click()
  await type('Sink, resistance', '0.2')
  await type('Sink, heat capacity', '1.5 kJ/K')
  await type('Sink, largest heat', '150')
  await column.getByRole('radiogroup', { name: 'Sink, flow' }).getByRole('radio', { name: 'fan or pump' }).click()
  const rated = { kind: 'rated', resistanceKW: 0.2, heatCapacityJK: 1500, flow: 'forced' }
  expect(await sink()).toEqual({ ...rated, maxW: 150 })
  await type('Sink, resistance', '0')
  await column.getByText(/^0 K\/W is too small; at least 0.001 K\/W/).waitFor()
  await type('Sink, resistance', '0.2')
  await type('Sink, largest heat', '')
  expect(await sink()).toEqual(rated)
  expect(await axe(page)).toEqual([])
  await page.getByRole('button', { name: 'Undo: Heat: sink, largest heat' }).click()
  expect(await sink()).toEqual({ ...rated, maxW: 150 })
  await heat.click()
  await column.getByRole('button', { name: /^Heat .*plate, sink of 0\.2 K\/W/ }).waitFor({ timeout: 5000 })
})
