import type { Id, Project, Unit } from '../../domain/record.ts'

/** A unit with what is inside it, each list by name. */
export interface UnitNode {
  readonly unit: Unit
  readonly children: readonly UnitNode[]
  readonly projects: readonly Project[]
}

const byName = (a: { name: string }, b: { name: string }) =>
  a.name.localeCompare(b.name, undefined, { numeric: true })

/** The units as a tree. A unit whose parent is not in the list stands at the top. */
export function unitTree(units: readonly Unit[], projects: readonly Project[] = []): UnitNode[] {
  const known = new Set(units.map((unit) => unit.id))
  const under = (parentId: Id | null): UnitNode[] =>
    units
      .filter((unit) =>
        parentId === null
          ? unit.parentId === null || !known.has(unit.parentId)
          : unit.parentId === parentId,
      )
      .sort(byName)
      .map((unit) => ({
        unit,
        children: under(unit.id),
        projects: projects.filter((project) => project.unitId === unit.id).sort(byName),
      }))
  return under(null)
}

/** The way from the top to a unit, the unit last. */
export function unitPath(units: readonly Unit[], id: Id): Unit[] {
  const path: Unit[] = []
  for (let at: Id | null = id; at !== null && path.length < units.length; ) {
    const unit = units.find((candidate) => candidate.id === at)
    if (unit === undefined) break
    path.unshift(unit)
    at = unit.parentId
  }
  return path
}

/** The units inside a unit, at any depth, itself included. A unit cannot move into one of these. */
export function unitsWithin(units: readonly Unit[], id: Id): Set<Id> {
  const within = new Set([id])
  for (let grew = true; grew; ) {
    grew = false
    for (const unit of units) {
      if (unit.parentId === null || !within.has(unit.parentId) || within.has(unit.id)) continue
      within.add(unit.id)
      grew = true
    }
  }
  return within
}

/** Units for a list to choose from, in the order of the tree, each with its way from the top. */
export function unitOptions(units: readonly Unit[]): { value: Id; label: string }[] {
  const walk = (nodes: readonly UnitNode[]): { value: Id; label: string }[] =>
    nodes.flatMap(({ unit, children }) => [
      {
        value: unit.id,
        label: unitPath(units, unit.id)
          .map((step) => step.name)
          .join(' › '),
      },
      ...walk(children),
    ])
  return walk(unitTree(units))
}
