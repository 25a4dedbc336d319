// From the sump's frame (mm, z up) to that of the model (metres, y up).
import { Quaternion, Vector3 } from 'three';

export const point = ([x, y, z]) => new Vector3(x * 1e-3, z * 1e-3, -y * 1e-3);
export const direction = ([x, y, z]) => new Vector3(x, z, -y);
export const turn = ([x, y, z, w]) => new Quaternion(x, z, -y, w);
