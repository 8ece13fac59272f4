// What the section shows: camera, plane, layers. No history; nothing of it is saved in a lamp.
import { useStore } from 'zustand'
import { createStore } from 'zustand/vanilla'
import type { Cut } from '../common/cut.ts'
import type { FateGroup } from '../common/fates.ts'
import type { Camera } from './model/frame.ts'
import type { HandleName } from './model/handle.ts'

export interface SectionState {
  /** Null: the whole lamp, fitted. */
  camera: Camera | null
  cut: Cut
  paths: boolean
  heat: boolean
  sizes: boolean
  /** Groups of paths that are hidden. */
  hidden: readonly FateGroup['name'][]
  /** The handle being dragged or stepped, or under the pointer or the keyboard. */
  active: HandleName | null
  holding: boolean
}

export const section = createStore<SectionState>()(() => ({
  camera: null,
  cut: 'upright',
  paths: true,
  heat: true,
  sizes: true,
  hidden: [],
  active: null,
  holding: false,
}))

export const useSection = <T>(pick: (s: SectionState) => T): T => useStore(section, pick)
