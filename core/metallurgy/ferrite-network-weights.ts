import type { Element } from "../quantity/quantity.js";

/**
 * FNN-1999, a network of thirteen contents, one hidden layer of six and one output (Vitek, Iskander and Oblow,
 * Welding Journal 2000). The weights are facts taken over from one public transcription and not checked against the paper.
 */
export const NETWORK_1999: NetworkWeights = {
  /** Contents in mass % with the range that the network was trained on; iron is the balance. */
  inputs: [
    {
      element: "C",
      least: 0.008,
      most: 0.2,
      weights: [-0.77387279, 0.018434081, 0.82022685, 0.11006859, 0.73543739, 0.4691014],
    },
    {
      element: "Cr",
      least: 14.74,
      most: 32.0,
      weights: [-0.069039397, -2.5659544, -0.044000875, -2.9419811, -3.9367428, -1.1520522],
    },
    {
      element: "Ni",
      least: 4.61,
      most: 33.5,
      weights: [2.6727166, 7.9642334, 1.5666518, -0.23706625, 4.4325504, 0.048408136],
    },
    {
      element: "Mo",
      least: 0.01,
      most: 6.85,
      weights: [-0.44477677, -1.4908272, 2.6978562, -1.1000808, 1.0438977, -1.2577403],
    },
    {
      element: "N",
      least: 0.01,
      most: 0.3,
      weights: [0.44379342, 0.56137705, 0.96918595, 0.11622228, 2.2909589, -0.92807078],
    },
    {
      element: "Mn",
      least: 0.35,
      most: 12.67,
      weights: [-0.044638768, 1.0530523, -0.047280665, 0.39095843, 0.28415173, -0.55964953],
    },
    {
      element: "Fe",
      least: 45.599,
      most: 72.51,
      weights: [-1.3890632, 0.001614709, -1.5885487, 1.3223488, -1.071898, -0.21818578],
    },
    {
      element: "Si",
      least: 0.03,
      most: 1.3,
      weights: [-2.0870762, -0.12974143, 0.21457124, 2.4922497, 0.59629947, -0.21896739],
    },
    {
      element: "Cu",
      least: 0,
      most: 12.16,
      weights: [2.0396113, 1.8920177, 0.83045024, -1.3074456, 0.4277178, -0.67360127],
    },
    {
      element: "Ti",
      least: 0,
      most: 2.16,
      weights: [-1.5564938, -4.5376453, -0.2121184, 1.1786785, -1.1766754, 0.006974767],
    },
    {
      element: "Nb",
      least: 0,
      most: 3.52,
      weights: [0.26728973, -0.080053128, -0.077407442, 0.0086041111, -0.20916402, -0.028071323],
    },
    {
      element: "V",
      least: 0,
      most: 0.92,
      weights: [-0.037870687, -2.5422843, -1.7820013, -1.2304662, -0.80585718, 1.1488333],
    },
    {
      element: "Co",
      least: 0,
      most: 1.28,
      weights: [0.99747533, -1.0812732, -1.4582157, -1.4943409, -1.4962931, 0.71126705],
    },
  ],
  hiddenBias: [0.87582731, 1.9934373, 0.34536767, -0.6946488, -0.34683022, -0.69136626],
  outputWeights: [2.4113946, -5.8647647, 2.0065274, 2.2444227, -2.1600745, -1.2715312],
  outputBias: 2.2027299,
  /** FN = (output - zero) × scale */
  output: { zero: 0.2, scale: 117 / 0.6 },
};

interface NetworkWeights {
  readonly inputs: readonly {
    readonly element: Element;
    readonly least: number;
    readonly most: number;
    readonly weights: readonly number[];
  }[];
  readonly hiddenBias: readonly number[];
  readonly outputWeights: readonly number[];
  readonly outputBias: number;
  readonly output: { readonly zero: number; readonly scale: number };
}
