// What the solid view shows. The orbit bypasses React: the scene requests a frame when it changes.
import { useStore } from 'zustand'
import { createStore } from 'zustand/vanilla'
import type { Orbit } from './model/orbit.ts'

export interface SolidState {
  /** Null: the whole lamp. */
  orbit: Orbit | null
  cutAway: boolean
  paths: boolean
  beam: boolean
}

export const solid = createStore<SolidState>()(() => ({ orbit: null, cutAway: false, paths: true, beam: true }))
export const useSolid = <T>(pick: (s: SolidState) => T): T => useStore(solid, pick)
