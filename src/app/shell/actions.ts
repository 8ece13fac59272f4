// Every action of the page. Each view declares its own; this file joins them.
import type { Action } from '../actions/action.ts'
import { compareActions } from '../compare/actions.ts'
import { dangerActions } from '../danger/actions.ts'
import { handbookActions } from '../handbook/actions.ts'
import { optimizeActions } from '../optimize/actions.ts'
import { planActions } from '../plan/actions.ts'
import { powerActions } from '../power/actions.ts'
import { readingsActions } from '../readings/actions.ts'
import { sweepActions } from '../sweep/actions.ts'
import { toleranceActions } from '../tolerances/actions.ts'
import { workshopActions } from '../workshop/actions.ts'
import { pageActions } from './pageActions.ts'

export const ACTIONS: readonly Action[] = [
  ...pageActions,
  ...sweepActions,
  ...optimizeActions,
  ...toleranceActions,
  ...readingsActions,
  ...compareActions,
  ...powerActions,
  ...dangerActions,
  ...planActions,
  ...workshopActions,
  ...handbookActions,
]
