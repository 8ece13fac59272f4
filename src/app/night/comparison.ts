// The other half of a split picture: whose light it is, and its own trace where it needs one.
import { createStore } from 'zustand/vanilla'
import type { Sheet } from '../../job/beam/sheet.ts'
import { openTracingClient, type TracingClient } from '../../job/service/client.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { drawer } from '../store/pageStorage.ts'
import { design, result } from '../store/stores.ts'
import { type BesideChoice, night } from './state.ts'

export interface BesideState {
  lit: { name: string; lamp: Lamp; sheet: Sheet } | null
  /** What stands in the way of its light, in words. */
  why: string
}

export const beside = createStore<BesideState>()(() => ({ lit: null, why: '' }))

/** Enough for a picture; the numbers of that lamp are had by opening it. */
const TRACE = { seed: 1, maxRays: 1 << 22, precision: 0.02, background: false } as const

/** The same lamp without a part; null: it has no such part. */
export function without(lamp: Lamp, choice: BesideChoice): Lamp | null {
  if (choice === 'without lens') return lamp.lens && { ...lamp, lens: null }
  if (choice === 'without tunnel') return lamp.tunnel && { ...lamp, tunnel: null }
  if (choice !== 'bare emitters' || lamp.opticTypes.every((o) => o.kind === 'bare')) return null
  return { ...lamp, opticTypes: lamp.opticTypes.map(({ id, name }) => ({ kind: 'bare' as const, id, name })) }
}

/** While Night is open: follows the choice, and the lamp on the sheet where the other is made from it. Returns how to stop. */
export function followBeside(): () => void {
  let desk: TracingClient | null = null
  let turn = 0
  let timer: ReturnType<typeof setTimeout> | undefined

  const drop = () => {
    turn++
    clearTimeout(timer)
    desk?.dispose()
    desk = null
  }
  const trace = (name: string, lamp: Lamp) => {
    drop()
    const mine = turn
    beside.setState({ lit: null, why: `${name}: being traced…` })
    desk = openTracingClient()
    desk.trace(
      lamp,
      TRACE,
      (sheet) => {
        if (mine !== turn) return
        beside.setState({ lit: { name, lamp, sheet }, why: '' })
        if (sheet.state === 'settled') drop()
      },
      (why) => {
        if (mine === turn) beside.setState({ lit: null, why: `${name}: ${why}` })
      },
    )
  }
  const made = (choice: BesideChoice) => {
    const lamp = without(design.lamp(), choice)
    if (lamp) trace(choice, lamp)
    else {
      drop()
      beside.setState({ lit: null, why: 'This lamp has no such part to leave out.' })
    }
  }
  const fromDrawer = async (id: string) => {
    drop()
    const mine = turn
    beside.setState({ lit: null, why: 'Being fetched from the drawer…' })
    const lamp = await drawer.peek(id)
    if (mine !== turn) return
    if (lamp) trace(lamp.name, lamp)
    else beside.setState({ lit: null, why: 'That lamp could not be read back from this browser’s storage.' })
  }
  const begin = () => {
    const { beside: choice } = night.getState()
    if (choice === 'none') {
      drop()
      beside.setState({ lit: null, why: '' })
    } else if (choice === 'kept') {
      drop()
      const { sheet } = result.getState()
      const lamp = design.lamp()
      beside.setState(
        sheet
          ? { lit: { name: `${lamp.name}, as it was`, lamp, sheet }, why: '' }
          : { lit: null, why: 'No light yet.' },
      )
    } else if (choice.startsWith('lamp ')) fromDrawer(choice.slice(5))
    else made(choice)
  }
  const offs = [
    night.subscribe((now, was) => now.beside !== was.beside && begin()),
    design.store.subscribe((now, was) => {
      const { beside: choice } = night.getState()
      if (now.lamp === was.lamp || choice === 'none' || choice === 'kept' || choice.startsWith('lamp ')) return
      clearTimeout(timer)
      timer = setTimeout(() => made(choice), 500)
    }),
  ]
  if (night.getState().beside !== 'kept') begin()
  return () => {
    for (const off of offs) off()
    drop()
  }
}
