import { useState } from 'react'
import { Link } from 'wouter'
import type { UnitsReply } from '../../api/contract.ts'
import type { Unit } from '../../domain/record.ts'
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
  | { readonly what: 'new-unit' | 'new-project' }
  | { readonly what: 'unit'; readonly unit: Unit }
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
          {mayShape && <Button onClick={() => setOpen({ what: 'new-unit' })}>Add a unit</Button>}
        </>
      }
    >
      {tree.length === 0 ? (
        <p>
          There is no unit yet. A unit is a ward, a clinic or a team; units can stand inside one
          another.
        </p>
      ) : (
        <Branch
          nodes={tree}
          mayShape={mayShape}
          onChange={(unit) => setOpen({ what: 'unit', unit })}
          top
        />
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
          {...(open.what === 'unit' ? { unit: open.unit } : {})}
        />
      )}
      {open?.what === 'new-project' && (
        <Dialog title="Start a project" onClose={close}>
          <NewProjectForm units={data.units} onCancel={close} />
        </Dialog>
      )}
    </Page>
  )
}

interface BranchProps {
  readonly nodes: readonly UnitNode[]
  readonly mayShape: boolean
  readonly onChange: (unit: Unit) => void
  readonly top?: boolean
}

function Branch({ nodes, mayShape, onChange, top = false }: BranchProps) {
  return (
    <ul className={top ? 'bare units top' : 'bare units'}>
      {nodes.map(({ unit, children, projects }) => (
        <li key={unit.id}>
          <div className="unit-head">
            <span className="unit-name">{unit.name}</span>
            {mayShape && (
              <Button look="quiet" className="small" onClick={() => onChange(unit)}>
                Change
                <span className="hidden-text">{` ${unit.name}`}</span>
              </Button>
            )}
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
            <Branch nodes={children} mayShape={mayShape} onChange={onChange} />
          )}
        </li>
      ))}
    </ul>
  )
}
