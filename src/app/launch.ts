/** Files that the system hands over: a job file opened with the installed app. */

interface LaunchQueue {
  setConsumer(consumer: (launched: { files?: readonly FileSystemFileHandle[] }) => void): void;
}

/** Hears of files that the app was started with, now or later; nowhere but in an installed app are there any. */
export function hearOfFiles(open: (files: File[]) => void): void {
  const { launchQueue } = globalThis as { launchQueue?: LaunchQueue };
  launchQueue?.setConsumer(({ files = [] }) => {
    if (files.length > 0) void Promise.all(files.map((handle) => handle.getFile())).then(open);
  });
}
