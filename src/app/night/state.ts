// What Night shows, from where, through what air. The camera's exposure is in the view store; the rest belongs to this view.
import { useStore } from 'zustand'
import { createStore } from 'zustand/vanilla'
import { design, useDesign } from '../store/stores.ts'
import { kindByName, type StationName, type TargetKind } from './model/scene.ts'

/** What fills the other half: nothing, a snapshot of this lamp, this lamp without a part or in another mode, or a stored lamp. */
export type ComparisonChoice =
  | 'none'
  | 'snapshot'
  | 'without lens'
  | 'without tunnel'
  | 'bare emitters'
  | `mode ${string}`
  | `lamp ${string}`

export interface NightState {
  /** Null: by the name of the lamp's target. */
  target: TargetKind | null
  station: StationName
  zoom: number
  /** Null: no haze drawn. */
  visibilityM: number | null
  /** Adaptation luminance of the eye; null: that of the target. */
  eyeCdM2: number | null
  marks: boolean
  comparison: ComparisonChoice
  /** Where the illuminance is read, as shares of the picture's width and height; null: nowhere. */
  probe: { u: number; v: number } | null
}

export const night = createStore<NightState>()(() => ({
  target: null,
  station: 'lamp',
  zoom: 1,
  visibilityM: 50e3,
  eyeCdM2: null,
  marks: true,
  comparison: 'none',
  probe: null,
}))
export const useNight = <T>(pick: (s: NightState) => T): T => useStore(night, pick)

export const currentTarget = (): TargetKind => night.getState().target ?? kindByName(design.lamp().target.name)

export function useTarget(): TargetKind {
  const chosen = useNight((s) => s.target)
  const named = useDesign((s) => kindByName(s.lamp.target.name))
  return chosen ?? named
}
