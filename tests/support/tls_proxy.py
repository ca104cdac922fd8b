"""A real TLS proxy of the system's packages in front of a server, on 127.0.0.1."""

from __future__ import annotations

import os
import shutil
import socket
import ssl
import subprocess
from datetime import UTC, datetime, timedelta
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import NameOID

NAME = "pacing.example"
_CONFIG = """
pid {folder}/nginx.pid;
error_log {folder}/error.log;
worker_processes 1;
{user}
events {{ worker_connections 64; }}
http {{
  access_log {folder}/access.log;
  client_body_temp_path {folder}/body;
  proxy_temp_path {folder}/proxy;
  fastcgi_temp_path {folder}/fastcgi;
  uwsgi_temp_path {folder}/uwsgi;
  scgi_temp_path {folder}/scgi;
  server {{
    listen 127.0.0.1:{port} ssl;
    server_name {name};
    ssl_certificate {folder}/cert.pem;
    ssl_certificate_key {folder}/key.pem;
    location / {{
      proxy_pass {upstream};
      proxy_set_header Host $host;
      proxy_set_header X-Forwarded-Proto $scheme;
      proxy_set_header X-Forwarded-For $proxy_add_x_forwarded_for;
    }}
  }}
}}
"""


def program() -> str:
    """Return where the proxy is; administrators' folders are not on every PATH."""
    found = shutil.which("nginx") or shutil.which("nginx", path="/usr/sbin:/sbin")
    assert found, "nginx is missing (package nginx-light)"
    return found


class TlsProxy:
    """Serves `upstream` by TLS. `context` trusts its certificate and no other."""

    def __init__(self, folder: Path, upstream: str) -> None:
        self._folder = folder
        folder.mkdir()
        _certify(folder)
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            self.port = free.getsockname()[1]
        config = _CONFIG.format(
            folder=folder,
            port=self.port,
            name=NAME,
            upstream=upstream,
            # As root its worker would be another user, who may not enter the folder.
            user="user root;" if _is_root() else "",
        )
        (folder / "nginx.conf").write_text(config, encoding="utf-8")
        self.context = ssl.create_default_context(cafile=str(folder / "cert.pem"))

    def start(self) -> TlsProxy:
        """Start; it listens when this returns, since only then it forks."""
        self._run()
        return self

    def stop(self) -> None:
        """Stop the one process that was started."""
        self._run("-s", "stop")

    def _run(self, *more: str) -> None:
        where = ["-p", str(self._folder), "-c", str(self._folder / "nginx.conf")]
        log = ["-e", str(self._folder / "error.log")]
        subprocess.run([program(), *where, *log, *more], check=True, timeout=30)


def _is_root() -> bool:
    return os.geteuid() == 0


def _certify(folder: Path) -> None:
    key = ec.generate_private_key(ec.SECP256R1())
    name = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, NAME)])
    now = datetime.now(UTC)
    made = (
        x509.CertificateBuilder()
        .subject_name(name)
        .issuer_name(name)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - timedelta(days=1))
        .not_valid_after(now + timedelta(days=1))
        .add_extension(x509.SubjectAlternativeName([x509.DNSName(NAME)]), False)
        .add_extension(x509.BasicConstraints(ca=True, path_length=None), True)
        .sign(key, hashes.SHA256())
    )
    pem = serialization.Encoding.PEM
    (folder / "cert.pem").write_bytes(made.public_bytes(pem))
    (folder / "key.pem").write_bytes(
        key.private_bytes(
            pem, serialization.PrivateFormat.PKCS8, serialization.NoEncryption()
        )
    )
