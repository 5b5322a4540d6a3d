/**
 * Loads a tire carries at a cold inflation pressure, as published. Per tire, pounds and psi.
 *
 * Only rows whose source was seen stand here; rows known from memory do not. The maker's own table and the sidewall outrank
 * them. Duals: the load of one tire of a pair.
 */

import type { TireFamily, TireSource } from '../families.ts';

/** [psi, lb, the lowest load range that may be inflated so far, source] */
export type TireRow = readonly [psi: number, lb: number, loadRange: string, source: TireSource];

export interface TireTable {
  readonly size: string;
  readonly family: TireFamily;
  readonly fitment: 'single' | 'dual';
  readonly rows: readonly TireRow[];
}

export const tireTables: readonly TireTable[] = [
  {
    size: '7.50-16LT',
    family: 'LT-bias',
    fitment: 'dual',
    rows: [
      [30, 1430, 'C', 'gmBiasChart'],
      [35, 1565, 'C', 'gmBiasChart'],
      [40, 1690, 'C', 'gmBiasChart'],
      [45, 1815, 'C', 'gmBiasChart'],
      [50, 1930, 'D', 'gmBiasChart'],
      [55, 2040, 'D', 'gmBiasChart'],
      [60, 2140, 'D', 'gmBiasChart'],
      [65, 2245, 'E', 'gmBiasChart'],
      [70, 2345, 'E', 'gmBiasChart'],
      [75, 2440, 'E', 'gmBiasChart'],
    ],
  },
  {
    size: '7.50-16LT',
    family: 'LT-bias',
    fitment: 'single',
    rows: [
      [30, 1620, 'C', 'gmBiasChart'],
      [35, 1770, 'C', 'gmBiasChart'],
      [40, 1930, 'C', 'gmBiasChart'],
      [45, 2060, 'C', 'gmBiasChart'],
      [50, 2190, 'D', 'gmBiasChart'],
      [55, 2310, 'D', 'gmBiasChart'],
      [60, 2440, 'D', 'gmBiasChart'],
      [65, 2560, 'E', 'gmBiasChart'],
      [70, 2670, 'E', 'gmBiasChart'],
      [75, 2780, 'E', 'gmBiasChart'],
    ],
  },
  { size: 'LT225/75R16', family: 'LT', fitment: 'dual', rows: [[80, 2470, 'E', 'tireEngineerColumn']] },
  {
    size: 'LT235/85R16',
    family: 'LT',
    fitment: 'dual',
    rows: [
      [50, 2007.5, 'C', 'michelinLtChart'],
      [65, 2382.5, 'D', 'michelinLtChart'],
      [80, 2778, 'E', 'michelinLtChart'],
    ],
  },
  {
    size: 'LT235/85R16',
    family: 'LT',
    fitment: 'single',
    rows: [
      [50, 2205, 'C', 'michelinLtChart'],
      [65, 2623, 'D', 'michelinLtChart'],
      [80, 3042, 'E', 'michelinLtChart'],
    ],
  },
  { size: 'LT245/75R16', family: 'LT', fitment: 'dual', rows: [[80, 2778, 'E', 'toyoSheets']] },
  { size: 'LT245/75R16', family: 'LT', fitment: 'single', rows: [[80, 3042, 'E', 'toyoSheets']] },
  { size: 'LT265/75R16', family: 'LT', fitment: 'dual', rows: [[80, 3085, 'E', 'toyoSheets']] },
  { size: 'LT265/75R16', family: 'LT', fitment: 'single', rows: [[80, 3415, 'E', 'toyoSheets']] },
  { size: 'LT285/75R16', family: 'LT', fitment: 'dual', rows: [[80, 3415, 'E', 'toyoSheets']] },
  { size: 'LT285/75R16', family: 'LT', fitment: 'single', rows: [[80, 3750, 'E', 'toyoSheets']] },
  {
    size: 'ST175/80R13',
    family: 'ST',
    fitment: 'single',
    rows: [
      [35, 1100, 'B', 'goodyearStAnchors'],
      [50, 1360, 'C', 'goodyearStAnchors'],
    ],
  },
  {
    size: 'ST185/80R13',
    family: 'ST',
    fitment: 'single',
    rows: [
      [35, 1200, 'B', 'goodyearStAnchors'],
      [50, 1480, 'C', 'goodyearStAnchors'],
    ],
  },
  {
    size: 'ST195/75R14',
    family: 'ST',
    fitment: 'single',
    rows: [
      [35, 1320, 'B', 'goodyearStAnchors'],
      [50, 1610, 'C', 'goodyearStAnchors'],
    ],
  },
  {
    size: 'ST205/75R14',
    family: 'ST',
    fitment: 'single',
    rows: [
      [35, 1430, 'B', 'goodyearStAnchors'],
      [50, 1760, 'C', 'goodyearStAnchors'],
      [65, 2040, 'D', 'goodyearStAnchors'],
    ],
  },
  {
    size: 'ST205/75R15',
    family: 'ST',
    fitment: 'single',
    rows: [
      [35, 1480, 'B', 'goodyearStAnchors'],
      [50, 1820, 'C', 'goodyearStAnchors'],
      [65, 2150, 'D', 'goodyearStAnchors'],
    ],
  },
  {
    size: 'ST215/75R14',
    family: 'ST',
    fitment: 'single',
    rows: [
      [35, 1520, 'B', 'goodyearStAnchors'],
      [50, 1870, 'C', 'goodyearStAnchors'],
    ],
  },
  {
    size: 'ST225/75R15',
    family: 'ST',
    fitment: 'single',
    rows: [
      [15, 1060, 'B', 'goodyearStChart'],
      [20, 1260, 'B', 'goodyearStChart'],
      [25, 1430, 'B', 'goodyearStChart'],
      [30, 1600, 'B', 'goodyearStChart'],
      [35, 1760, 'B', 'goodyearStChart'],
      [40, 1880, 'C', 'goodyearStChart'],
      [45, 2020, 'C', 'goodyearStChart'],
      [50, 2150, 'C', 'goodyearStChart'],
      [55, 2270, 'D', 'goodyearStChart'],
      [60, 2380, 'D', 'goodyearStChart'],
      [65, 2540, 'D', 'goodyearStChart'],
      [80, 2830, 'E', 'trailerMakerArticle'],
    ],
  },
  { size: 'ST225/75R16', family: 'ST', fitment: 'single', rows: [[80, 2830, 'E', 'tireEngineerColumn']] },
  {
    size: 'ST235/80R16',
    family: 'ST',
    fitment: 'single',
    rows: [
      [35, 2090, 'B', 'goodyearStAnchors'],
      [50, 2600, 'C', 'goodyearStAnchors'],
      [65, 3000, 'D', 'goodyearStAnchors'],
      [80, 3420, 'E', 'goodyearStAnchors'],
    ],
  },
];
