import type { TestHouse } from '../../support.ts';

export const QUICK_PATH = '/cutting-table/quick';

/** Asks for a quick plan as a script does: on a busy machine it is told where the plan will be, and asks there. */
export async function askForPlan(house: TestHouse, asked: object) {
  let answer = await house.send(QUICK_PATH, asked);
  while (answer.status === 202) answer = await house.data(answer.headers.location ?? '');
  return answer;
}
