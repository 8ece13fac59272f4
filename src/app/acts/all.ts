// Every act of the page. A view's acts stand in a file of their own and are listed here.
import type { Act } from './act.ts'
import { dangerActs } from './dangerActs.ts'
import { pageActs } from './pageActs.ts'
import { planActs } from './planActs.ts'
import { powerActs } from './powerActs.ts'
import { sweepActs } from './sweepActs.ts'

export const ACTS: readonly Act[] = [...pageActs, ...sweepActs, ...powerActs, ...dangerActs, ...planActs]
