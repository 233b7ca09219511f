import { useState } from 'react'
import { Link } from 'wouter'
import type { UnitsReply } from '../../api/contract.ts'
import type { Id, Unit } from '../../domain/record.ts'
import { useQuery } from '../lib/query.ts'
import { useCan } from '../lib/session.ts'
import { Button } from '../ui/Button.tsx'
import { Dialog } from '../ui/Dialog.tsx'
import { Page } from '../ui/Page.tsx'
import { Loaded } from '../ui/Waiting.tsx'
import { NewProjectForm } from './NewProjectForm.tsx'
import { UnitDialog } from './UnitDialog.tsx'
import { type UnitNode, unitTree } from './unit-tree.ts'
import './projects.css'

type Open =
  | { readonly what: 'new-unit'; readonly parentId: Id | null }
  | { readonly what: 'unit'; readonly unit: Unit }
  | { readonly what: 'new-project'; readonly unitId?: Id }
  | null

/** Every unit as a tree, with its projects. */
export function ProjectsPage() {
  const query = useQuery('GET /api/units')
  return (
    <Loaded query={query} what="units and projects">
      {(data) => <Tree data={data} reload={query.reload} />}
    </Loaded>
  )
}

function Tree({ data, reload }: { data: UnitsReply; reload: () => void }) {
  const mayShape = useCan('coach')
  const mayWrite = useCan('member')
  const [open, setOpen] = useState<Open>(null)
  const tree = unitTree(data.units, data.projects)
  const close = () => setOpen(null)
  const done = () => {
    close()
    reload()
  }

  return (
    <Page
      title="Projects"
      lead={<p>Wards, clinics and teams, and the projects each of them runs.</p>}
      actions={
        <>
          {mayWrite && data.units.length > 0 && (
            <Button look="main" onClick={() => setOpen({ what: 'new-project' })}>
              Start a project
            </Button>
          )}
          {mayShape && (
            <Button onClick={() => setOpen({ what: 'new-unit', parentId: null })}>
              Add a unit
            </Button>
          )}
        </>
      }
    >
      {tree.length === 0 ? (
        <p>
          There is no unit yet. A unit is a ward, a clinic or a team; units can stand inside one
          another.
        </p>
      ) : (
        <Branch nodes={tree} mayShape={mayShape} mayWrite={mayWrite} onOpen={setOpen} top />
      )}
      {(open?.what === 'new-unit' || open?.what === 'unit') && (
        <UnitDialog
          units={data.units}
          empty={
            open.what === 'unit' &&
            !data.projects.some((project) => project.unitId === open.unit.id) &&
            !data.units.some((unit) => unit.parentId === open.unit.id)
          }
          onClose={close}
          onDone={done}
          onGone={reload}
          {...(open.what === 'unit' ? { unit: open.unit } : { parentId: open.parentId })}
        />
      )}
      {open?.what === 'new-project' && (
        <Dialog
          title="Start a project"
          onClose={close}
          actions={
            <Button look="quiet" className="outdent" onClick={close}>
              Not now
            </Button>
          }
        >
          <NewProjectForm
            units={data.units}
            {...(open.unitId === undefined ? {} : { unitId: open.unitId })}
          />
        </Dialog>
      )}
    </Page>
  )
}

interface BranchProps {
  readonly nodes: readonly UnitNode[]
  readonly mayShape: boolean
  readonly mayWrite: boolean
  readonly onOpen: (open: Open) => void
  readonly top?: boolean
}

function Branch({ nodes, mayShape, mayWrite, onOpen, top = false }: BranchProps) {
  return (
    <ul className={top ? 'bare units top' : 'bare units'}>
      {nodes.map(({ unit, children, projects }) => (
        <li key={unit.id}>
          <div className="unit-head">
            <span className="unit-name">{unit.name}</span>
            {unit.origin === 'example' && top && (
              <span className="small soft">invented example</span>
            )}
            <span className="unit-actions">
              {mayWrite && (
                <Button
                  look="quiet"
                  className="small"
                  onClick={() => onOpen({ what: 'new-project', unitId: unit.id })}
                >
                  Start a project
                  <span className="hidden-text">{` in ${unit.name}`}</span>
                </Button>
              )}
              {mayShape && (
                <>
                  <Button
                    look="quiet"
                    className="small"
                    onClick={() => onOpen({ what: 'new-unit', parentId: unit.id })}
                  >
                    Add a unit inside
                    <span className="hidden-text">{` ${unit.name}`}</span>
                  </Button>
                  <Button
                    look="quiet"
                    className="small"
                    onClick={() => onOpen({ what: 'unit', unit })}
                  >
                    Change
                    <span className="hidden-text">{` ${unit.name}`}</span>
                  </Button>
                </>
              )}
            </span>
          </div>
          {projects.length > 0 && (
            <ul className="bare projects">
              {projects.map((project) => (
                <li key={project.id}>
                  <Link href={`/projects/${project.id}`}>{project.name}</Link>
                  {project.aim.trim() !== '' && <p className="small soft">{project.aim}</p>}
                </li>
              ))}
            </ul>
          )}
          {children.length > 0 && (
            <Branch nodes={children} mayShape={mayShape} mayWrite={mayWrite} onOpen={onOpen} />
          )}
        </li>
      ))}
    </ul>
  )
}
