// The other half of a split picture: its lamp, and a trace of that lamp where one is needed.
import { createStore } from 'zustand/vanilla'
import type { Sheet } from '../../job/beam/sheet.ts'
import { openTracingClient, type TracingClient } from '../../job/service/client.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { lensesLeftOut, withoutLenses } from '../../library/lensSystem.ts'
import { powerOf } from '../../library/typicalPower.ts'
import { variantWords } from '../../report/figures.ts'
import { storage } from '../store/pageStorage.ts'
import { design, result } from '../store/stores.ts'
import { type ComparisonChoice, night } from './state.ts'

export interface ComparisonState {
  lit: { name: string; lamp: Lamp; sheet: Sheet } | null
  /** Why there is no light yet, as text. */
  why: string
}

export const comparison = createStore<ComparisonState>()(() => ({ lit: null, why: '' }))

/** Enough for a picture; open that lamp for its figures. */
const TRACE = { seed: 1, maxRays: 1 << 22, precision: 0.02, background: false } as const

/** The same lamp without a part, or just switched on in a mode; null when it has no such part or mode. */
export function lampWithout(lamp: Lamp, choice: ComparisonChoice): Lamp | null {
  if (choice.startsWith('mode ')) {
    const power = powerOf(lamp).value
    const mode = choice.slice(5)
    return power.modes.some((m) => m.id === mode) ? { ...lamp, power, heat: { kind: 'mode', mode, seconds: 0 } } : null
  }
  if (choice === 'without lens') return withoutLenses(lamp)
  if (choice === 'without tunnel') return lamp.tunnel && { ...lamp, tunnel: null }
  if (choice !== 'bare emitters' || lamp.opticTypes.every((o) => o.kind === 'bare')) return null
  return { ...lamp, opticTypes: lamp.opticTypes.map(({ id, name }) => ({ kind: 'bare' as const, id, name })) }
}

/** “without lens”, “in Turbo”, and what stays in front of the lamp then. */
export function choiceWords(lamp: Lamp, choice: ComparisonChoice): string {
  if (choice === 'without lens' || choice === 'without tunnel' || choice === 'bare emitters') {
    const words = variantWords(choice, lensesLeftOut(lamp))
    return `${words.charAt(0).toLowerCase()}${words.slice(1)}`
  }
  const mode = powerOf(lamp).value.modes.find((m) => choice === `mode ${m.id}`)
  return mode ? `in ${mode.name}, just switched on` : choice
}

/** Follows the choice and, where the comparison derives from the open lamp, its edits. Returns a function that stops. */
export function followComparison(): () => void {
  let client: TracingClient | null = null
  let generation = 0
  let timer: ReturnType<typeof setTimeout> | undefined

  const stop = () => {
    generation++
    clearTimeout(timer)
    client?.dispose()
    client = null
  }
  const trace = (name: string, lamp: Lamp) => {
    stop()
    const started = generation
    comparison.setState({ lit: null, why: `${name}: being traced…` })
    client = openTracingClient()
    client.trace(
      lamp,
      TRACE,
      (sheet) => {
        if (started !== generation) return
        comparison.setState({ lit: { name, lamp, sheet }, why: '' })
        if (sheet.state === 'settled') stop()
      },
      (why) => {
        if (started === generation) comparison.setState({ lit: null, why: `${name}: ${why}` })
      },
    )
  }
  const traceWithout = (choice: ComparisonChoice) => {
    const lamp = lampWithout(design.lamp(), choice)
    if (lamp) trace(choiceWords(design.lamp(), choice), lamp)
    else {
      stop()
      comparison.setState({
        lit: null,
        why: choice.startsWith('mode ') ? 'This lamp has no such mode.' : 'This lamp has no such part to leave out.',
      })
    }
  }
  const traceStored = async (id: string) => {
    stop()
    const started = generation
    comparison.setState({ lit: null, why: 'Being read from this browser’s storage…' })
    const lamp = await storage.peek(id)
    if (started !== generation) return
    if (lamp) trace(lamp.name, lamp)
    else comparison.setState({ lit: null, why: 'That lamp could not be read back from this browser’s storage.' })
  }
  const begin = () => {
    const { comparison: choice } = night.getState()
    if (choice === 'none') {
      stop()
      comparison.setState({ lit: null, why: '' })
    } else if (choice === 'snapshot') {
      stop()
      const { sheet } = result.getState()
      const lamp = design.lamp()
      comparison.setState(
        sheet
          ? { lit: { name: `${lamp.name}, as it was`, lamp, sheet }, why: '' }
          : { lit: null, why: 'No light yet.' },
      )
    } else if (choice.startsWith('lamp ')) traceStored(choice.slice(5))
    else traceWithout(choice)
  }
  const offs = [
    night.subscribe((now, before) => now.comparison !== before.comparison && begin()),
    design.store.subscribe((now, before) => {
      const { comparison: choice } = night.getState()
      if (now.lamp === before.lamp || choice === 'none' || choice === 'snapshot' || choice.startsWith('lamp ')) return
      clearTimeout(timer)
      timer = setTimeout(() => traceWithout(choice), 500)
    }),
  ]
  if (night.getState().comparison !== 'snapshot') begin()
  return () => {
    for (const off of offs) off()
    stop()
  }
}
