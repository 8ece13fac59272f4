// Types that the steps of the beam's job share.
import type { Scheduler } from '../../num/scheduler.ts'
import type { FirstSheetReaders } from './firstSheet.ts'
import type { FrontThread } from './frontThread.ts'
import type { SunThread } from './sunThread.ts'

/** Rays whose exits are recorded for the readers that propagate them. */
export const EXITS_KEPT = 1 << 19

/** How a trace is held and cancelled, and who hears of it on the way. All may be absent. */
export interface TraceContext {
  scheduler?: Scheduler
  onProgress?: (rays: number) => void
  /** Threads that read the first sheet while the next lamp is traced. */
  firstSheetReaders?: FirstSheetReaders | undefined
  /** Reads the sun beside the thread that orders its rays. */
  sunThread?: SunThread | undefined
  /** Searches in front of the lamp for the settled sheet. */
  frontThread?: FrontThread | undefined
  /** The first sheet is being read elsewhere: another lamp may be traced, and the sheet of this one comes even so. */
  onHandedOver?: () => void
  /** Every sheet that is due by its rays is read, whatever time that takes: for who compares them. */
  readsAll?: boolean
}
