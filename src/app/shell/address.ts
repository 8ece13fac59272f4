// The view and the open panel in the page's address, behind its #: a reload and a link show the same, back and forward go through what was shown.
import { type ComparePane, compare } from '../store/compare.ts'
import { type DangerPane, danger } from '../store/danger.ts'
import { HANDBOOK_PAGES, type HandbookPage, handbook } from '../store/handbook.ts'
import { optimize } from '../store/optimize.ts'
import { type PowerPage, power } from '../store/power.ts'
import { type ReadingsPane, readings } from '../store/readings.ts'
import { view } from '../store/stores.ts'
import { sweep } from '../store/sweep.ts'
import { tolerances } from '../store/tolerances.ts'
import type { ViewName } from '../store/view.ts'
import { type WorkshopPane, workshop } from '../store/workshop.ts'

const VIEWS: readonly ViewName[] = ['plan', 'section', 'solid', 'night']
const FIRST_VIEW: ViewName = 'section'

/** The panes of each panel, its first one first; range, search and tolerances have but one. */
const PANES = {
  range: [],
  compare: ['light', 'night', 'dangers', 'heat', 'parts'] satisfies ComparePane[],
  optimize: [],
  tolerances: [],
  dangers: ['front', 'found', 'heat', 'sun', 'eyes', 'paper'] satisfies DangerPane[],
  power: ['modes', 'wiring', 'list'] satisfies PowerPage[],
  workshop: ['drawings', 'solids', 'parts', 'assembly', 'photometry'] satisfies WorkshopPane[],
  readings: ['log', 'plan'] satisfies ReadingsPane[],
  handbook: HANDBOOK_PAGES.map(([name]) => name),
} as const
type Panel = keyof typeof PANES
const PANELS = Object.keys(PANES) as Panel[]

export interface Shown {
  view: ViewName
  panel: Panel | null
  /** Of the panel; null: its first. */
  pane: string | null
}

/** What can't be shown is left out: the rest of the address still counts. */
export function parseShown(hash: string): Shown {
  const entries = new URLSearchParams(hash.replace(/^#/, ''))
  const panel = PANELS.find((name) => name === entries.get('panel')) ?? null
  const panes: readonly string[] = panel ? PANES[panel].slice(1) : []
  return {
    view: VIEWS.find((name) => name === entries.get('view')) ?? FIRST_VIEW,
    panel,
    pane: panes.find((name) => name === entries.get('pane')) ?? null,
  }
}

/** Empty for what a first visit shows. */
export function hashOf({ view, panel, pane }: Shown): string {
  const entries = [
    ...(view === FIRST_VIEW ? [] : [`view=${view}`]),
    ...(panel ? [`panel=${panel}`] : []),
    ...(panel && pane ? [`pane=${pane}`] : []),
  ]
  return entries.length > 0 ? `#${entries.join('&')}` : ''
}

function currentShown(): Shown {
  const panes: Record<Panel, { open: boolean; pane: string | null }> = {
    range: { open: sweep.getState().open, pane: null },
    optimize: { open: optimize.getState().open, pane: null },
    tolerances: { open: tolerances.getState().open, pane: null },
    compare: compare.getState(),
    dangers: danger.getState(),
    power: { open: power.getState().open, pane: power.getState().page },
    workshop: workshop.getState(),
    readings: readings.getState(),
    handbook: { open: handbook.getState().open, pane: handbook.getState().page },
  }
  const panel = PANELS.find((name) => panes[name].open) ?? null
  const pane = panel && panes[panel].pane
  const isFirst = panel !== null && pane === PANES[panel][0]
  return { view: view.getState().view, panel, pane: isFirst ? null : pane }
}

function show({ view: wanted, panel, pane }: Shown): void {
  // Choosing a view, also the one that is shown, closes a panel: so the view comes first.
  if (view.getState().view !== wanted) view.setState({ view: wanted })
  sweep.setState({ open: panel === 'range' })
  optimize.setState({ open: panel === 'optimize' })
  tolerances.setState({ open: panel === 'tolerances' })
  compare.setState({
    open: panel === 'compare',
    ...(panel === 'compare' && { pane: (pane ?? 'light') as ComparePane }),
  })
  danger.setState({ open: panel === 'dangers', ...(panel === 'dangers' && { pane: (pane ?? 'front') as DangerPane }) })
  power.setState({ open: panel === 'power', ...(panel === 'power' && { page: (pane ?? 'modes') as PowerPage }) })
  workshop.setState({
    open: panel === 'workshop',
    ...(panel === 'workshop' && { pane: (pane ?? 'drawings') as WorkshopPane }),
  })
  readings.setState({
    open: panel === 'readings',
    ...(panel === 'readings' && { pane: (pane ?? 'log') as ReadingsPane }),
  })
  handbook.setState({
    open: panel === 'handbook',
    ...(panel === 'handbook' && { page: (pane ?? HANDBOOK_PAGES[0][0]) as HandbookPage }),
  })
}

/** The part of a window that it takes. */
export type AddressWindow = Pick<Window, 'location' | 'history' | 'addEventListener'>

/** Shows what the address says, and writes there what is shown from then on. `?…` before the # stays as it is. */
export function followAddress(page: AddressWindow): void {
  const { location, history } = page
  let written = parseShown(location.hash)
  let isDue = false
  const write = () => {
    isDue = false
    const now = currentShown()
    if (hashOf(now) === hashOf(written)) return
    // Another pane of the same panel is no step to go back to.
    const isStep = now.view !== written.view || now.panel !== written.panel
    written = now
    const address = `${location.pathname}${location.search}${hashOf(now)}`
    if (isStep) history.pushState(null, '', address)
    else history.replaceState(null, '', address)
  }
  // A panel that opens closes another one: what is between the two is never written.
  const request = () => {
    if (!isDue) queueMicrotask(write)
    isDue = true
  }
  for (const store of [view, sweep, compare, optimize, tolerances, danger, power, workshop, readings, handbook])
    store.subscribe(request)
  page.addEventListener('popstate', () => {
    written = parseShown(location.hash)
    show(written)
  })
  show(written)
}

/** Takes a lamp that came with the address out of it: a reload must not bring it once more. */
export const clearAddress = ({ location, history }: AddressWindow): void =>
  history.replaceState(null, '', `${location.pathname}${location.search}${hashOf(currentShown())}`)
