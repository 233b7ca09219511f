import './styles/index.css'
import { StrictMode } from 'react'
import { createRoot } from 'react-dom/client'
import { App } from './App.tsx'
import { applyAppearance } from './lib/appearance.ts'
import { Broken } from './shell/Broken.tsx'

applyAppearance()

createRoot(document.getElementById('root')!).render(
  <StrictMode>
    <Broken>
      <App />
    </Broken>
  </StrictMode>,
)
