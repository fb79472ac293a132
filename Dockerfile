# The application alone; compose.yaml puts a database and TLS beside it.
FROM python:3.11-slim
ENV PYTHONUNBUFFERED=1 SALTUS_DATA=/data NUMBA_CACHE_DIR=/data/numba
RUN useradd --create-home --uid 1000 saltus && mkdir /data && chown saltus /data
WORKDIR /opt/saltus
COPY pyproject.toml constraints.txt README.md LICENSE CHANGELOG.md ./
COPY src src
RUN pip install --no-cache-dir --constraint constraints.txt .
USER saltus
VOLUME /data
EXPOSE 8426
CMD ["saltus", "serve", "--host", "0.0.0.0", "--port", "8426"]
