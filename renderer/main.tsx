import '@mantine/core/styles.layer.css'
import './look/palette.css'
import './look/shell.css'
import './look/pieces.css'
import './look/prepare.css'
import './look/cards.css'
import './look/chooser.css'
import { MantineProvider } from '@mantine/core'
import { QueryClient, QueryClientProvider } from '@tanstack/react-query'
import { StrictMode } from 'react'
import { createRoot } from 'react-dom/client'
import { Router } from 'wouter'
import { useHashLocation } from 'wouter/use-hash-location'
import { onJob, onWorkshopChanged, openJobs } from './client/client.ts'
import { BoardEditsProvider } from './hooks/use-board-edits.tsx'
import { CardDraftProvider } from './hooks/use-card-draft.tsx'
import { ChosenBoardProvider } from './hooks/use-chosen-board.tsx'
import { cssVariables, theme } from './look/theme.ts'
import { Shell } from './views/shell/shell.tsx'

/** The nonce that lets the component library add its style elements; none of ours are inline. */
function styleNonce(): string {
  return document.querySelector<HTMLMetaElement>('meta[property=csp-nonce]')?.nonce ?? ''
}

const queries = new QueryClient({
  defaultOptions: { queries: { retry: false, staleTime: 2000 } },
})

// What a long call changed is asked for again. Checks change nothing.
onJob((job) => {
  if (job !== null && job.state !== 'running' && job.call !== 'check') void queries.invalidateQueries()
})
// The command line, or another window, works on the same workshop.
onWorkshopChanged(() => void queries.invalidateQueries())
// Where the door does not answer, the first view says so.
openJobs().catch(() => undefined)

const place = document.getElementById('window')
if (place === null) throw new TypeError('The page has no place for the window.')
createRoot(place).render(
  <StrictMode>
    <MantineProvider
      theme={theme}
      cssVariablesResolver={cssVariables}
      defaultColorScheme="auto"
      getStyleNonce={styleNonce}
    >
      <QueryClientProvider client={queries}>
        <Router hook={useHashLocation}>
          <ChosenBoardProvider>
            <CardDraftProvider>
              <BoardEditsProvider>
                <Shell />
              </BoardEditsProvider>
            </CardDraftProvider>
          </ChosenBoardProvider>
        </Router>
      </QueryClientProvider>
    </MantineProvider>
  </StrictMode>,
)
