// What Night shows, from where, through what air. The camera's exposure stands in the page's view store; the rest is this view's own.
import { useStore } from 'zustand'
import { createStore } from 'zustand/vanilla'
import { design, useDesign } from '../store/stores.ts'
import { kindByName, type StationName, type TargetKind } from './model/scene.ts'

/** Whose light fills the other half: nobody's, this lamp's as it was, this lamp without a part, or a lamp of the drawer. */
export type BesideChoice = 'none' | 'kept' | 'without lens' | 'without tunnel' | 'bare emitters' | `lamp ${string}`

export interface NightState {
  /** Null: what the name of the lamp's target says. */
  target: TargetKind | null
  station: StationName
  zoom: number
  /** Null: no haze drawn. */
  visibilityM: number | null
  /** Luminance the eye has settled on; null: the target's own. */
  eyeCdM2: number | null
  marks: boolean
  beside: BesideChoice
  /** Where illuminance is read off, as shares of the picture's width and height; null: nowhere. */
  probe: { u: number; v: number } | null
}

export const night = createStore<NightState>()(() => ({
  target: null,
  station: 'lamp',
  zoom: 1,
  visibilityM: 50e3,
  eyeCdM2: null,
  marks: true,
  beside: 'none',
  probe: null,
}))
export const useNight = <T>(pick: (s: NightState) => T): T => useStore(night, pick)

export const targetNow = (): TargetKind => night.getState().target ?? kindByName(design.lamp().target.name)

export function useTarget(): TargetKind {
  const chosen = useNight((s) => s.target)
  const named = useDesign((s) => kindByName(s.lamp.target.name))
  return chosen ?? named
}
