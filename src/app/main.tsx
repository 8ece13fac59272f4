import { createRoot } from 'react-dom/client'
import './theme.css'
import { PlanView } from './plan/PlanView.tsx'

createRoot(document.getElementById('root')!).render(<PlanView />)
