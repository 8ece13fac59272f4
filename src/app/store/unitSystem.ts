// The builder's units: chosen once, kept in the browser for every lamp, in none of them.
import { useStore } from 'zustand'
import { createStore } from 'zustand/vanilla'
import type { UnitSystem } from '../common/unitSystem.ts'

const KEY = 'units'

/** Some browsers keep nothing, or throw when asked. */
function storedSystem(): UnitSystem {
  try {
    return globalThis.localStorage?.getItem(KEY) === 'inch' ? 'inch' : 'metric'
  } catch {
    return 'metric'
  }
}

export const units = createStore<{ system: UnitSystem }>()(() => ({ system: storedSystem() }))

export function chooseUnitSystem(system: UnitSystem): void {
  units.setState({ system })
  try {
    globalThis.localStorage?.setItem(KEY, system)
  } catch {
    // Then the choice lasts as long as the page.
  }
}

export const unitSystem = (): UnitSystem => units.getState().system
export const useUnitSystem = (): UnitSystem => useStore(units, (s) => s.system)
