"""The browser side: pages and a JSON interface over `plan`; it holds no formula."""

from leafwright.web.app import create_app

__all__ = ["create_app"]
