// The example "Bin lamp" built by hand from the lamp that the page begins with, as a builder with a bin and a measured sheet would.
import type { Page } from 'playwright-core'
import { expect, test, vi } from 'vitest'
import type { Lamp } from '../../src/lamp/schema.ts'
import { binLamp } from '../../src/library/demosAssembled.ts'
import { type Builder, builderOn } from './builder.ts'
import { figure, lampName, lampOn, openLamp, precise } from './hands.ts'
import { chromiumPages } from './harness.ts'

vi.setConfig({ testTimeout: 300_000 })
const open = chromiumPages()

/** What the whole lamp may cost a builder: of clicks and keys a tenth more than it does. */
const MOST = { clicks: 98, keys: 252, fields: 65 }

const NOTE = 'Bin of the yard, sheet of the old magnifier.'

async function target(b: Builder, page: Page) {
  await b.click(lampName(page))
  await b.write('Bin lamp')
  await b.type('Target', 'What it is', 'Yard')
  await b.type('Target', 'Distance', '25')
  await b.type('Target', 'Width', '12')
  await b.type('Target', 'Height', '8')
  await b.type('Target', 'Cone, half angle', '15')
}

/** Boards of six on a circle of 11 mm, 36 mm across. */
async function boards(b: Builder) {
  await b.choose('Emitters', 'Class', '3.5 mm, one die')
  await b.type('Emitters', 'Current, all boards', '350 mA')
  await b.unfold('Boards')
  await b.unfold('Set its emitters out')
  await b.choose('Set its emitters out', 'Emitters', 'on a circle')
  await b.type('Set its emitters out', 'How many', '6')
  await b.type('Set its emitters out', 'Radius of the circle', '11')
  await b.press('Set its emitters out', 'One in the middle')
  await b.press('Set its emitters out', 'Set out')
  await b.type('Boards', 'Board diameter', '36')
}

async function face(b: Builder, page: Page) {
  await b.unfold('Face')
  await b.type('Face', 'Size across', '340')
  await b.choose('Face', 'Finish', 'White solder mask')
  await b.type('Face', 'Between boards', '1')
  await b.unfold('Fill with boards')
  await b.choose('Fill with boards', 'Pattern', 'rings')
  await b.press('Fill with boards', 'As many as fit')
  await b.type('Fill with boards', 'Boards wanted', '50')
  await b.press('Fill with boards', 'Fill the face')
  await page.getByRole('status').filter({ hasText: '50 boards' }).waitFor()
}

async function optic(b: Builder) {
  await b.unfold('Optics')
  await b.type('Optics', 'Name', 'Collimator 60°, 10 mm')
  await b.type('Optics', 'Full width at half', '60')
  await b.type('Optics', 'Efficiency', '90 %')
  await b.type('Optics', 'Exit height', '9')
}

/** The bin from its bottom up, then its rolled rim. */
async function bin(b: Builder, page: Page) {
  await b.unfold('Tunnel')
  await b.choose('Tunnel', 'Cross-section', 'rectangle')
  await b.choose('Tunnel', 'Lining', 'Aluminium foil tape')
  await b.press('Tunnel', '+ Stretch')
  await b.type('Stretch 1', 'Width at the start', '344')
  await b.type('Stretch 1', 'Height at the start', '344')
  await b.type('Stretch 1', 'Ends at z', '1200')
  await page.getByText('1200 mm is too large; at most 1039 mm.').waitFor()
  await b.again('520')
  await b.type('Stretch 1', 'Width at the end', '464')
  await b.type('Stretch 1', 'Height at the end', '340')
  await b.unfold('Stretch 2')
  await b.press('Stretch 2', 'Step after stretch 1')
  await b.type('Stretch 2', 'Width at the start', '470')
  await b.type('Stretch 2', 'Height at the start', '344')
  await b.type('Stretch 2', 'Ends at z', '560')
  await b.type('Stretch 2', 'Width at the end', '470')
  await b.type('Stretch 2', 'Height at the end', '344')
  await b.choose('Stretch 2', 'Lining', 'Bare galvanised steel, new')
}

/** A page magnifier of PVC: its focal length measured, its sides, and where its rings have their middle. */
async function sheet(b: Builder) {
  await b.type('Lens', 'Stands at z', '568')
  await b.type('Lens', 'Focal length', '600')
  await b.choose('Lens', 'Outline', 'rectangle')
  await b.type('Lens', 'Width, along x', '500')
  await b.type('Lens', 'Height, along y', '350')
  await b.choose('Lens', 'Material', 'Rigid PVC')
  await b.type('Lens', 'Sheet thickness', '2')
  await b.type('Lens', 'Riser draft', '5')
  await b.type('Lens', 'Rounded tips', '2 %')
  await b.unfold('Piece and place')
  await b.type('Piece and place', 'Optical centre, x', '15')
  await b.type('Piece and place', 'Moved along x', '-15')
}

async function cooling(b: Builder) {
  await b.unfold('Heat')
  await b.type('Heat', 'Plate, thickness', '8')
  await b.choose('Heat', 'Plate, metal', 'Aluminium 6063-T6')
  await b.type('Heat', 'Fins', '34')
  await b.type('Heat', 'Fins, height', '60')
  await b.type('Heat', 'Between fins', '8')
}

async function modes(b: Builder) {
  await b.unfold('Power')
  await b.unfold('Drivers')
  await b.type('Drivers', 'Output, most', '1')
  await b.unfold('Modes')
  await b.choose('Modes', 'Shown mode', 'High')
  await b.type('Modes', 'Name', 'Mid')
  await b.choose('Modes', 'Steps down', 'never')
  await b.choose('Modes', 'Shown mode', 'Turbo')
  await b.type('Modes', 'Name', 'High')
  await b.choose('Modes', 'Steps down', 'by the plate')
}

/** The figures of a lamp: what its parts are called inside the document, and its words, are left out. */
function figures({ face, target, tunnel, lens, cooling, power, ...lamp }: Lamp) {
  const nameless = <T extends object>(of: T) => ({ ...of, id: '', name: '' })
  return {
    ...{ name: lamp.name, face, target, tunnel, lens, cooling },
    emitters: lamp.emitterTypes.map(nameless),
    optics: lamp.opticTypes.map(nameless),
    boardTypes: lamp.boardTypes.map((t) => ({ outline: t.outline, sites: t.sites })),
    currents: lamp.boards.map((b) => b.currentA),
    drivers: power!.drivers,
    modes: power!.modes.map((m) => ({ ...m, id: '' })),
  }
}

/** Discs of 36 mm: the least gap between two, the least to the edge of 340 mm, and how far their middle is off the axis. */
function layout({ boards }: Lamp) {
  const gaps = boards.flatMap((a, i) => boards.slice(i + 1).map((b) => Math.hypot(a.xMm - b.xMm, a.yMm - b.yMm) - 36))
  const edges = boards.map((b) => 170 - 18 - Math.hypot(b.xMm, b.yMm))
  const mean = (key: 'xMm' | 'yMm') => boards.reduce((sum, b) => sum + b[key], 0) / boards.length
  return { gapMm: Math.min(...gaps), edgeMm: Math.min(...edges), offMm: Math.hypot(mean('xMm'), mean('yMm')) }
}

test('fifty boards, a bin with a rim, half a magnifier, three modes: typed as the example has them, in so many clicks, and traced', async () => {
  const page = await open({ idle: true })
  const b = builderOn(page)
  await target(b, page)
  await boards(b)
  await face(b, page)
  await optic(b)
  await bin(b, page)
  await sheet(b)
  const toBeam = { ...b.toil }
  await cooling(b)
  await modes(b)
  await b.unfold('Note')
  await b.click(page.getByRole('textbox', { name: 'Note on the lamp' }))
  await b.write(NOTE)
  console.info('from the first lamp to a beam sheet', toBeam, 'with heat and power', b.toil)
  const built = await lampOn(page)
  expect(figures(built)).toEqual(figures(binLamp()))
  expect(built.note).toBe(NOTE)
  expect(built.boards).toHaveLength(50)
  const { gapMm, edgeMm, offMm } = layout(built)
  expect(gapMm).toBeGreaterThan(0.999)
  expect(edgeMm).toBeGreaterThan(1.999)
  expect(offMm).toBeLessThan(2)
  for (const of of ['clicks', 'keys', 'fields'] as const) expect(b.toil[of], of).toBeLessThanOrEqual(MOST[of])

  const traced = await open({ untraced: true, address: '?engine=cpu' })
  await openLamp(traced, built)
  await precise(traced, 0.05)
  // The example's, by the command line with 500,000 rays of another seed.
  expect(Math.abs((await figure(traced, 'Flux out')) / 17_096 - 1)).toBeLessThan(0.05)
  expect(Math.abs((await figure(traced, 'Axial intensity')) / 68.13 - 1)).toBeLessThan(0.05)
})
