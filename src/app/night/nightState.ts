// What Night shows from where. The exposure stands in the page's view store; the rest is this view's own.
import { useStore } from 'zustand'
import { createStore } from 'zustand/vanilla'
import type { StationName } from '../measure/nightScene.ts'

export interface NightState {
  station: StationName
  zoom: number
  /** Where illuminance is read off, as shares of the picture's width and height; null: nowhere. */
  probe: { u: number; v: number } | null
}

export const night = createStore<NightState>()(() => ({ station: 'lamp', zoom: 1, probe: null }))
export const useNight = <T>(pick: (s: NightState) => T): T => useStore(night, pick)
