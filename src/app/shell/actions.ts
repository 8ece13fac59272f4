// Every act of the page. A view's acts stand in a file of their own and are listed here.
import type { Act } from '../actions/action.ts'
import { dangerActs } from '../danger/actions.ts'
import { planActs } from '../plan/actions.ts'
import { powerActs } from '../power/actions.ts'
import { sweepActs } from '../sweep/actions.ts'
import { pageActs } from './pageActions.ts'

export const ACTS: readonly Act[] = [...pageActs, ...sweepActs, ...powerActs, ...dangerActs, ...planActs]
