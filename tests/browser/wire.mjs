// The air between phone and server, as the phone knows it: a relay that can be cut, or that lets a
// request through and loses the answer. What goes through it is not looked at.
import { createServer, connect } from "node:net";

export async function wire(port) {
  const open = new Set();
  let losing = false;
  const forget = (socket) => {
    open.add(socket);
    socket.on("close", () => open.delete(socket));
    socket.on("error", () => socket.destroy());
  };
  const accept = (phone) => {
    const server = connect(port, "127.0.0.1");
    [phone, server].forEach(forget);
    let request = "";
    phone.on("data", (bytes) => {
      if (losing) request += bytes.toString("latin1");
      server.write(bytes);
    });
    server.on("data", (bytes) => {
      // The server has written the trial down and says so; nobody hears it.
      if (losing && request.includes("POST ")) phone.destroy();
      else phone.write(bytes);
    });
    phone.on("close", () => server.destroy());
    server.on("close", () => phone.destroy());
  };
  let relay = createServer(accept);
  const listen = (at) => new Promise((done) => relay.listen(at, "127.0.0.1", done));
  await listen(0);
  const at = relay.address().port;
  return {
    port: at,
    async cut() {
      const closed = new Promise((done) => relay.close(done));
      for (const socket of open) socket.destroy();
      await closed;
    },
    async mend() {
      relay = createServer(accept);
      await listen(at);
    },
    loseAnswers(on) {
      losing = on;
    },
  };
}
