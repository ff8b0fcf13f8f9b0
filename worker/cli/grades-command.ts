import { GRADES_USAGE, gradesCommand } from "./grades.js";
import { type Command, write } from "./terminal.js";

export const grades: Command = {
  usage: `Usage: ${GRADES_USAGE}`,
  async run(args, { stdout, stderr, env }) {
    const written: Promise<void>[] = [];
    const line = (stream: typeof stdout) => (text: string) => {
      written.push(write(stream, text.endsWith("\n") ? text : `${text}\n`));
    };
    const today = () => new Date().toISOString().slice(0, 10);
    const code = await gradesCommand(args, { out: line(stdout), err: line(stderr), environment: env, today });
    await Promise.all(written);
    return code;
  },
};
