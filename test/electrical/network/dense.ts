import { Matrix } from 'ml-matrix';
import { conductance, type Network } from '../../../src/electrical/network/network.js';

/** The matrix of a network's branches alone, as the textbooks write it: for dense methods of a library to check ours. */
export function laplacian({ nodes, branches }: Network): Matrix {
  const matrix = Matrix.zeros(nodes, nodes);
  const add = (row: number, column: number, value: number) => matrix.set(row, column, matrix.get(row, column) + value);
  for (const { from, to, ohm } of branches) {
    if (from === to) continue;
    add(from, from, conductance(ohm));
    add(to, to, conductance(ohm));
    add(from, to, -conductance(ohm));
    add(to, from, -conductance(ohm));
  }
  return matrix;
}
