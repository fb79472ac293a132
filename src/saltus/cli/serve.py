"""``saltus serve``: the coach's pages on this machine."""

import typer

__all__ = ["serve"]


def serve(
    port: int = typer.Option(8426, min=0, max=65535, help="Port; 0 takes any that is free."),
    host: str = typer.Option("127.0.0.1", help="Address to listen on; this machine only."),
) -> None:
    """Open the coach's pages: serve them on this machine until stopped."""
    from saltus.web.serve import serve as serve_pages

    serve_pages(host, port, typer.echo)
